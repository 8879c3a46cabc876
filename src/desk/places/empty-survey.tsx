import { FilesButton } from '../files/files-button.tsx'
import classes from './empty-survey.module.css'
import { PlaceForm } from './place-form.tsx'

/** What stands on the map of a survey that knows no ground yet: the two ways to begin. */
export function EmptySurvey() {
  return (
    <section className={classes.card} aria-label="Begin the survey">
      <h2 className={classes.title}>This survey is empty</h2>
      <div className={classes.way}>
        <p>Drop a track, an outline or findspots anywhere on this page, and the map goes there.</p>
        <FilesButton label="Choose files" main />
      </div>
      <p className={classes.or}>or</p>
      <div className={classes.way}>
        <p>Go to a place, and draw the search area there.</p>
        <PlaceForm id="place-to-begin" />
      </div>
    </section>
  )
}
