import { type ReactNode, useEffect, useLayoutEffect, useMemo, useRef } from 'react'
import type { PlaceView, SurveyView } from '#contract'
import { measuredText, NorthMark, ScaleBar, useLook } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { useList } from '../api/queries.ts'
import { useJoinsOnPlan } from '../finds/joins-on-map.ts'
import { usePickedPlaces } from '../finds/picked-places.ts'
import { areaDraft, changeDraft } from '../land/area-draft.ts'
import { useLanesOnPlan } from '../lanes/use-lanes-on-plan.ts'
import { CompareOverMap } from '../layers/compare-over-map.tsx'
import { MapCredits } from '../layers/map-credits.tsx'
import { stackHandlers } from '../layers/stack-handlers.ts'
import { usePicturesOnPlan } from '../layers/use-pictures-on-plan.ts'
import { markHandlers, useMarksOnPlan } from '../marks/use-marks-on-plan.ts'
import { addPoint, closeFigure, measure } from '../measure/measure-state.ts'
import { useMeasured } from '../measure/use-measured.ts'
import { EmptySurvey } from '../places/empty-survey.tsx'
import { shownPlace } from '../places/shown-place.ts'
import { legendOpen, selection, shownLayers, stage } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { useVisitOnPlan } from '../visits/use-visit-on-plan.ts'
import { useShownChances, useShownGaps } from '../visits/visits-state.ts'
import { choseOnMap, placedOnMap } from './choosing.ts'
import { CoordinateReadout } from './coordinate-readout.tsx'
import { chanceGround, passesGround } from './cover-layer.ts'
import { FindspotPopup } from './findspot-popup.tsx'
import { LayersCard } from './layers-card.tsx'
import { mapView, plan, pointed } from './map-state.ts'
import { MapTools } from './map-tools.tsx'
import classes from './map-view.module.css'
import { Plan } from './plan.ts'
import type { Chosen } from './selection-layer.ts'

/** Width of the open legend with its margin, pixels. */
const legendPixels = 210
/** Width of the cards with their margin, pixels. */
const cardPixels = 352

/** Makes the map once, in its element, and takes it down with the page. */
function usePlan(target: React.RefObject<HTMLElement | null>): Plan | null {
  const made = useStore(plan)
  useLayoutEffect(() => {
    if (!target.current) return
    const next = new Plan(target.current, {
      loadLine: deskApi.trackLine,
      pictures: stackHandlers,
      marks: markHandlers,
      failed: tellFault,
      chosen: choseOnMap,
      placed: placedOnMap,
      pointed: pointed.set,
      moved: mapView.set,
      draftClosed: (polygons) => changeDraft({ polygons, phase: 'edit' }),
      draftChanged: (polygons) => changeDraft({ polygons }),
      measured: ([easting = 0, northing = 0]) => addPoint([easting, northing]),
      figureClosed: closeFigure,
    })
    const observer = new ResizeObserver(() => next.resize())
    observer.observe(target.current)
    plan.set(next)
    return () => {
      observer.disconnect()
      next.close()
      plan.set(null)
    }
  }, [target])
  return made
}

/** Keeps the map showing what the survey holds. */
function useSurveyOnPlan(made: Plan | null, survey: SurveyView | null): void {
  const areas = useList('areas')
  const gaps = useShownGaps()
  const tracks = useList('tracks')
  const bounds = useRef(survey?.bounds ?? null)
  bounds.current = survey?.bounds ?? null
  const file = survey?.file
  const epsg = survey?.grid?.epsg ?? 0
  useEffect(() => {
    if (file !== undefined) made?.takeGrid(epsg, bounds.current)
  }, [made, file, epsg])
  useEffect(() => made?.showAreas(areas), [made, areas])
  useEffect(() => made?.showGaps(gaps), [made, gaps])
  useEffect(() => made?.showTracks(tracks), [made, tracks])
  const cover = survey?.cover ?? null
  // After the grid: a cover is laid in the projection of its survey.
  const chances = useShownChances()
  const ground = useMemo(
    () => (chances ? chanceGround(chances.id, chances.cover.frame) : cover && passesGround(cover)),
    [chances, cover],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new survey or grid needs the cover laid anew.
  useEffect(() => made?.showCover(ground), [made, ground, file, epsg])
}

/** Keeps the place that was asked for and what is measured on the map, and goes to the place when it comes. */
function usePlaceAndMeasure(made: Plan | null, epsg: number): void {
  const place = useStore(shownPlace)
  const measuring = useStore(measure)
  const { legs } = useMeasured(measuring, epsg)
  const texts = legs.map((leg) => (leg ? measuredText(leg.groundM) : '')).join('\n')
  useEffect(() => made?.showPlace(place), [made, place])
  const gone = useRef<{ readonly place: PlaceView | null; readonly epsg: number }>({ place: null, epsg })
  useEffect(() => {
    const before = gone.current
    gone.current = { place, epsg }
    // A first grid just taken up has put the map elsewhere, so the place is gone to again.
    if (place && (before.place !== place || before.epsg === 0)) made?.goToPlace(place)
  }, [made, place, epsg])
  useEffect(() => made?.showMeasure(measuring, texts.split('\n')), [made, measuring, texts])
}

/** What is chosen, as the map draws it. */
function useChosen(made: Plan | null): Chosen | null {
  const chosen = useStore(selection)
  const areas = useList('areas')
  const gaps = useShownGaps()
  const findspots = useList('findspots')
  const picked = usePickedPlaces()
  return useMemo(() => {
    if (chosen?.kind === 'findspot' || (picked.length > 0 && chosen === null)) {
      const spot = findspots.find(({ id }) => id === chosen?.id)
      return {
        kind: 'places',
        places: [...picked, ...(spot ? [[spot.easting, spot.northing] as const] : [])],
      }
    }
    if (!chosen) return null
    if (chosen.kind === 'track') return { kind: 'lines', pieces: made?.piecesOf(chosen.id) ?? [] }
    if (chosen.kind === 'mark' || chosen.kind === 'target') return null
    const item = (chosen.kind === 'area' ? areas : gaps).find(({ id }) => id === chosen.id)
    return item ? { kind: 'polygons', polygons: item.polygons } : null
  }, [chosen, areas, gaps, findspots, picked, made])
}

interface MapViewProps {
  readonly survey: SurveyView | null
  /** Messages that float over the lower part of the map. */
  readonly messages: ReactNode
  /** Cards that stand on the map where it has room for them, else null. */
  readonly cards: ReactNode
}

/** The map and what stands on it: layers, scale, north, the place under the pointer, the popup of a findspot. */
export function MapView({ survey, messages, cards }: MapViewProps) {
  const target = useRef<HTMLDivElement>(null)
  const made = usePlan(target)
  const { look } = useLook()
  const layers = useStore(shownLayers(useStore(stage)))
  const draft = useStore(areaDraft)
  const chosen = useChosen(made)
  const legend = useStore(legendOpen)
  const wide = useWide()
  useEffect(() => {
    if (made) made.legendRoom = legend ? legendPixels : 0
  }, [made, legend])
  useJoinsOnPlan(made)
  const carded = cards !== null
  useEffect(() => {
    if (made) made.cardRoom = carded ? cardPixels : 0
  }, [made, carded])
  useSurveyOnPlan(made, survey)
  usePicturesOnPlan(made, survey?.file, survey?.grid?.epsg ?? 0)
  useVisitOnPlan(made)
  useMarksOnPlan(made)
  useLanesOnPlan(made)
  usePlaceAndMeasure(made, survey?.grid?.epsg ?? 0)
  useEffect(() => made?.showLayers(layers), [made, layers])
  useEffect(() => made?.showDraft(draft), [made, draft])
  useEffect(() => made?.showChosen(chosen), [made, chosen])
  useEffect(() => made?.paint(look), [made, look])

  return (
    <main className={classes.frame} aria-label="Map">
      <div
        ref={target}
        id="map"
        className={classes.map}
        role="application"
        aria-label="Map of the survey. Arrow keys move it, plus and minus change its scale."
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the map takes keys of its own while it has the focus.
        tabIndex={0}
        data-testid="map"
      />
      <CompareOverMap survey={survey} />
      {cards === null ? null : <div className={`${classes.corner} ${classes.cards}`}>{cards}</div>}
      <div className={`${classes.corner} ${classes.topRight}`}>
        <LayersCard survey={survey} />
      </div>
      <div className={`${classes.corner} ${classes.right}`}>
        {survey?.grid ? <MapTools bounds={survey.bounds} /> : null}
      </div>
      <MapCredits />
      <div className={`${classes.corner} ${classes.foot}`}>
        <CoordinateReadout grid={survey?.grid ?? null} />
        {survey?.grid ? <MapScale /> : null}
      </div>
      {survey && !survey.grid ? (
        <div className={`${classes.corner} ${classes.hint}`}>
          <EmptySurvey />
        </div>
      ) : null}
      <div className={`${classes.corner} ${classes.messages}`}>{messages}</div>
      {made && wide ? <FindspotPopup made={made} /> : null}
    </main>
  )
}

function MapScale() {
  const view = useStore(mapView)
  const wide = useWide()
  if (!view) return null
  return (
    <div className={classes.scale}>
      <ScaleBar metresPerPixel={view.metresPerPixel} mostPixels={wide ? 140 : 80} />
      <NorthMark />
    </div>
  )
}
