import type { CoverView } from '#contract'
import {
  areaText,
  durationText,
  FigureTile,
  FigureTiles,
  lengthText,
  momentText,
  Section,
  ShareFigure,
  shareText,
  squareMetresText,
  threeFigures,
  wholeNumber,
} from '#ui'
import classes from './visits-panel.module.css'

const unknownTime = 'the fixes carry no times'

/** The account of the ground, the share first. */
export function CoverFigures({ cover }: { readonly cover: CoverView }) {
  return (
    <Section>
      <ShareFigure
        label="of the search area covered"
        value={shareText(cover.coveredShare)}
        share={cover.coveredShare}
        testId="share-covered"
      />
      <FigureTiles>
        <FigureTile label="Search area" value={areaText(cover.areaM2)} testId="area" />
        <FigureTile label="Covered" value={areaText(cover.coveredM2)} testId="area-covered" />
        <FigureTile label="Gaps" value={wholeNumber(cover.gaps.count)} testId="gap-count" />
        <FigureTile label="Ground in gaps" value={areaText(cover.gaps.areaM2)} testId="gap-area" />
        <FigureTile label="Largest gap" value={squareMetresText(cover.gaps.largestM2)} testId="gap-largest" />
        <FigureTile
          label="Passes, mean"
          value={threeFigures(cover.passes.mean)}
          note={`at most ${wholeNumber(cover.passes.max)}`}
        />
        <FigureTile label="Distance swept" value={lengthText(cover.distanceM)} testId="distance" />
        <FigureTile
          label="Time"
          value={cover.walkingS === null ? '–' : durationText(cover.walkingS)}
          note={cover.walkingS === null ? unknownTime : undefined}
          testId="walking-time"
        />
        <FigureTile
          label="Finds an hour"
          value={cover.findsPerHour === null ? '–' : threeFigures(cover.findsPerHour)}
          note={cover.findsPerHour === null ? unknownTime : undefined}
          testId="finds-per-hour"
        />
        <FigureTile
          label="Finds a hectare"
          value={cover.findsPerHectare === null ? '–' : threeFigures(cover.findsPerHectare)}
          testId="finds-per-hectare"
        />
        {cover.expectedShare === null ? null : (
          <FigureTile label="Share by chance" value={shareText(cover.expectedShare)} />
        )}
      </FigureTiles>
    </Section>
  )
}

/** How the figures were made, one sentence each. */
export function CoverNotes({ cover }: { readonly cover: CoverView }) {
  return (
    <Section>
      <details>
        <summary className={classes.summary}>How this was made</summary>
        <ul className={classes.notes}>
          <li>
            Worked out {momentText(cover.madeAt)}; the sum took {durationText(cover.seconds)}.
          </li>
          {cover.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      </details>
    </Section>
  )
}
