import type { Coordinate } from 'ol/coordinate.js'
import { platformModifierKeyOnly } from 'ol/events/condition.js'
import { createEmpty, extend, isEmpty } from 'ol/extent.js'
import type Feature from 'ol/Feature.js'
import DoubleClickZoom from 'ol/interaction/DoubleClickZoom.js'
import { defaults as defaultInteractions } from 'ol/interaction/defaults.js'
import TileLayer from 'ol/layer/Tile.js'
import OlMap from 'ol/Map.js'
import type MapBrowserEvent from 'ol/MapBrowserEvent.js'
import Overlay from 'ol/Overlay.js'
import type TileSource from 'ol/source/Tile.js'
import type VectorSource from 'ol/source/Vector.js'
import View from 'ol/View.js'
import type { AreaView, FindspotView, GapView, PlaceView, TrackView } from '#contract'
import type { Look } from '#ui'
import type { AreaDraft } from '../land/area-draft.ts'
import { PictureStack, type ShownPicture } from '../layers/picture-stack.ts'
import type { Measure } from '../measure/measured-line.ts'
import type { LayerName, Selection } from '../state/desk-state.ts'
import { CoverLayer, type SteppedGround } from './cover-layer.ts'
import { DraftLayer } from './draft-layer.ts'
import { findspotLayer } from './findspot-layer.ts'
import { gridLabelLayer, groundLayer } from './ground-layer.ts'
import { type JoinLine, joinLayer } from './join-layer.ts'
import { type LineLayer, lineNear } from './line-near.ts'
import { MeasureLayer } from './measure-layer.ts'
import { placeLayer } from './place-layer.ts'
import { gridSight, placeSight } from './place-sight.ts'
import { planColours } from './plan-colours.ts'
import type { PlanBounds, PlanHandlers } from './plan-handlers.ts'
import { PlanLand } from './plan-land.ts'
import { PlanMarks } from './plan-marks.ts'
import { planProjection } from './plan-projection.ts'
import { areaLayer, gapLayer } from './polygon-layer.ts'
import { type Chosen, selectionLayer } from './selection-layer.ts'
import { trackLayer } from './track-layer.ts'
import { WalkLayer } from './walk-layer.ts'

const reachPixels = 11
const lineReachPixels = 6
const closest = 0.02
const farthest = 2000

function motionMs(): number {
  return matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : 320
}

/** The map: layers from the paper up, in the survey's own grid. It knows nothing of panels; its handlers carry news out. */
export class Plan {
  readonly popup = new Overlay({
    positioning: 'bottom-center',
    offset: [0, -14],
    stopEvent: true,
    autoPan: { margin: 24, animation: { duration: motionMs() } },
  })
  /** Pixels at the right that the legend covers. */
  legendRoom = 0
  /** Pixels at the left that cards cover. */
  cardRoom = 0
  readonly #map: OlMap
  readonly #handlers: PlanHandlers
  #colours = planColours()
  /** 0 while the survey knows no grid. */
  #epsg = 0
  #projection = planProjection(0)
  readonly #base = new TileLayer({ zIndex: 0.5 })
  readonly #pictures: PictureStack
  readonly #cover = new CoverLayer(() => this.#look)
  readonly #tracks: ReturnType<typeof trackLayer>
  readonly #gaps = gapLayer()
  readonly #areas = areaLayer()
  readonly #findspots = findspotLayer(() => this.#colours)
  readonly marks: PlanMarks
  readonly land = new PlanLand()
  readonly walk = new WalkLayer()
  readonly #selection = selectionLayer()
  readonly #joins = joinLayer()
  readonly #place = placeLayer()
  readonly #measure = new MeasureLayer()
  readonly #draft: DraftLayer
  #look: Look = 'light'
  #drafting = false
  #measuring = false

  constructor(target: HTMLElement, handlers: PlanHandlers) {
    this.#handlers = handlers
    this.#pictures = new PictureStack(handlers.pictures)
    this.#tracks = trackLayer(handlers.loadLine, handlers.failed)
    this.#map = new OlMap({
      target,
      controls: [],
      interactions: defaultInteractions({ altShiftDragRotate: false, pinchRotate: false }),
      keyboardEventTarget: target,
    })
    this.#draft = new DraftLayer(this.#map, this.#areas.layer.getSource() as VectorSource, {
      closed: handlers.draftClosed,
      changed: handlers.draftChanged,
    })
    this.marks = new PlanMarks(this.#map, handlers.marks)
    this.#map.setLayers([
      groundLayer(() => this.#colours),
      this.#base,
      this.#pictures.group,
      this.#cover.layer,
      this.#tracks.layer,
      this.walk.layer,
      this.#gaps.layer,
      this.#areas.layer,
      ...this.land.layers,
      this.#joins.layer,
      this.#findspots.layer,
      this.#selection.layer,
      ...this.marks.layers,
      this.#place.layer,
      this.#draft.layer,
      this.#measure.layer,
      gridLabelLayer(
        () => this.#colours,
        () => this.#epsg !== 0,
      ),
    ])
    this.#map.addOverlay(this.popup)
    this.#map.on('click', (event) => this.#choose(event))
    this.#map.on('pointermove', (event) => this.#point(event))
    target.addEventListener('pointerleave', () => {
      this.#measure.pointAt(null)
      handlers.pointed(null)
    })
    this.#map.on('moveend', () => this.#settle())
  }

  /** Takes up a survey's grid and goes to its bounds, or to the whole country while it holds nothing. Until a grid is known, metres around nothing. */
  takeGrid(epsg: number, bounds: PlanBounds | null): void {
    this.#epsg = epsg
    this.#projection = planProjection(epsg)
    this.#map.setView(
      new View({
        projection: this.#projection,
        center: [0, 0],
        resolution: 1,
        minResolution: closest,
        maxResolution: farthest,
        enableRotation: false,
        showFullExtent: true,
      }),
    )
    this.#findspots.place(this.#projection)
    this.#cover.clear()
    this.#pictures.clear()
    this.#base.setSource(null)
    const sight = bounds ?? gridSight(epsg)
    if (sight) this.goTo(sight, false)
  }

  /** Reads the colours of the look now shown and draws everything in them. */
  paint(look: Look): void {
    this.#colours = planColours()
    if (look !== this.#look) {
      this.#look = look
      this.#cover.repaint()
    }
    const parts = [
      this.#tracks,
      this.#gaps,
      this.#areas,
      this.land,
      this.marks,
      this.#joins,
      this.#selection,
      this.#place,
      this.#draft,
      this.#measure,
    ]
    for (const part of parts) part.paint(this.#colours)
    this.walk.paint(this.#colours, look)
    this.#findspots.redraw()
    this.#map.render()
  }

  showAreas(areas: readonly AreaView[]): void {
    this.#areas.show(areas)
  }

  showGaps(gaps: readonly GapView[]): void {
    this.#gaps.show(gaps)
  }

  showTracks(tracks: readonly TrackView[]): void {
    this.#tracks.show(tracks)
  }

  showFindspots(findspots: readonly FindspotView[]): void {
    this.#findspots.show(findspots)
  }

  /** Lines between finds that may be of one object. */
  showJoins(lines: readonly JoinLine[]): void {
    this.#joins.show(lines)
  }

  showCover(ground: SteppedGround | null): void {
    this.#cover.show(ground, this.#projection)
  }

  /** The images and terrain models, the uppermost first. */
  showPictures(pictures: readonly ShownPicture[]): void {
    this.#pictures.show(pictures, this.#projection)
  }

  /** What lies below all pictures; null for nothing. */
  showBase(source: TileSource | null, opacity = 1): void {
    this.#base.setOpacity(opacity)
    this.#base.setSource(source)
  }

  /** Where the divider between two compared pictures stands: share of the map's width. */
  setDivider(share: number): void {
    this.#pictures.setDivider(share)
  }

  /** What the map looks at; maps beside it that have it too move as it does. */
  get view(): View {
    return this.#map.getView()
  }

  showLayers(shown: Readonly<Record<LayerName, boolean>>): void {
    this.#areas.layer.setVisible(shown.areas)
    this.land.setVisible(shown.constraints, shown.lanes)
    this.#cover.layer.setVisible(shown.cover)
    this.#gaps.layer.setVisible(shown.gaps)
    this.#tracks.layer.setVisible(shown.tracks)
    this.walk.layer.setVisible(shown.tracks)
    this.#findspots.layer.setVisible(shown.findspots)
    this.marks.setVisible(shown.marks, shown.targets)
  }

  showChosen(chosen: Chosen | null): void {
    this.#selection.show(chosen)
  }

  piecesOf(track: number): ReturnType<ReturnType<typeof trackLayer>['piecesOf']> {
    return this.#tracks.piecesOf(track)
  }

  /** Bounds of what is drawn of a track; null while nothing is. */
  boundsOfTrack(track: number): PlanBounds | null {
    const extent = createEmpty()
    for (const piece of this.#tracks.piecesOf(track)) extend(extent, piece.getGeometry()?.getExtent() ?? [])
    return isEmpty(extent) ? null : (extent as unknown as PlanBounds)
  }

  showDraft(draft: AreaDraft | null): void {
    this.#drafting = draft !== null
    this.#areas.hide(draft?.id ?? null)
    this.#draft.show(draft)
  }

  /** Marks the place that was asked for; null marks none. */
  showPlace(place: PlaceView | null): void {
    this.#place.show(place)
  }

  /** Goes to a place, so near that what is about it is seen; stays where the grid does not reach it. */
  goToPlace(place: PlaceView): void {
    const sight = placeSight(place)
    if (sight) this.goTo(sight)
  }

  /** Shows what is measured, with a text for each leg; until null is shown clicks set points and choose nothing. */
  showMeasure(measure: Measure | null, texts: readonly string[]): void {
    this.#measuring = measure !== null
    this.#measure.show(measure, texts)
    for (const interaction of this.#map.getInteractions().getArray())
      if (interaction instanceof DoubleClickZoom) interaction.setActive(!this.#measuring)
    const viewport = this.#map.getViewport()
    if (viewport) viewport.style.cursor = this.#measuring ? 'crosshair' : ''
  }

  finishDraft(): void {
    this.#draft.finish()
  }

  removeLastCorner(): void {
    this.#draft.removeLastCorner()
  }

  /** Goes to a rectangle, with room around it; never nearer than some 40 m across. */
  goTo([west, south, east, north]: PlanBounds, gliding = true): void {
    const [width = 0, height = 0] = this.#map.getSize() ?? []
    const room = Math.min(48, width / 8, height / 8)
    // Where there is width to spare, what is shown keeps clear of the legend and the cards.
    const [left, right] = width > 700 ? [this.cardRoom, this.legendRoom] : [0, 0]
    this.#map.getView().fit([west, south, east, north], {
      // A smaller map beside this one may have told the view of its own size.
      size: [width, height],
      padding: [room, room + right, room, room + left],
      minResolution: 0.06,
      duration: gliding ? motionMs() : 0,
    })
  }

  /** Brings a place into sight, without changing the scale unless one stands very far off. */
  lookAt(easting: number, northing: number): void {
    const view = this.#map.getView()
    const resolution = view.getResolution() ?? 1
    view.animate({ center: [easting, northing], resolution: Math.min(resolution, 0.5), duration: motionMs() })
  }

  zoomBy(steps: number): void {
    const view = this.#map.getView()
    view.animate({ zoom: (view.getZoom() ?? 0) + steps, duration: motionMs() / 2 })
  }

  /** After the room for the map has changed. */
  resize(): void {
    this.#map.updateSize()
  }

  close(): void {
    this.#tracks.close()
    this.#pictures.clear()
    this.#map.setTarget(undefined)
    this.#map.dispose()
  }

  #settle(): void {
    const view = this.#map.getView()
    const metresPerPixel = view.getResolution()
    const centre = view.getCenter()
    if (metresPerPixel === undefined || !centre) return
    this.#tracks.atScale(metresPerPixel)
    this.#handlers.moved({ centre, metresPerPixel })
  }

  /** The findspot or gap at a place: cheap enough to ask at every move of the pointer. */
  #quickHit([easting = 0, northing = 0]: Coordinate): Selection | null {
    const reach = reachPixels * (this.#map.getView().getResolution() ?? 1)
    const spot = this.#findspots.layer.getVisible()
      ? this.#findspots.near(easting, northing, reach)[0]
      : undefined
    if (spot) return { kind: 'findspot', id: spot.id }
    const gap = this.#gaps.layer.getVisible() ? this.#gaps.at([easting, northing]) : null
    return gap === null ? null : { kind: 'gap', id: gap }
  }

  #hit(place: Coordinate): Selection | null {
    return (
      this.marks.targetAt(place) ??
      this.#quickHit(place) ??
      this.marks.markAt(place) ??
      this.#lineHit(place, this.#tracks.layer, (feature) => ({
        kind: 'track',
        id: feature.get('track') as number,
      })) ??
      this.#lineHit(place, this.#areas.layer, (feature) => ({ kind: 'area', id: feature.getId() as number }))
    )
  }

  #lineHit(
    place: Coordinate,
    layer: LineLayer,
    selectionOf: (feature: Feature) => Selection,
  ): Selection | null {
    const nearest = lineNear(layer, place, lineReachPixels * (this.#map.getView().getResolution() ?? 1))
    return nearest && selectionOf(nearest)
  }

  #choose(event: MapBrowserEvent): void {
    if (this.#handlers.placed(event.coordinate)) return
    if (this.#measuring) this.#setPoint(event.coordinate)
    else if (!this.#drafting && !this.marks.drawing)
      this.#handlers.chosen(this.#hit(event.coordinate), platformModifierKeyOnly(event))
  }

  #setPoint(place: Coordinate): void {
    const reach = reachPixels * (this.#map.getView().getResolution() ?? 1)
    if (this.#measure.closesAt(place, reach)) this.#handlers.figureClosed()
    else this.#handlers.measured(place)
  }

  #point(event: MapBrowserEvent): void {
    this.#handlers.pointed(event.coordinate)
    if (event.dragging) return
    if (this.#measuring) {
      this.#measure.pointAt(event.coordinate)
      return
    }
    const over = !this.#drafting && this.#quickHit(event.coordinate) !== null
    const viewport = this.#map.getViewport()
    if (viewport) viewport.style.cursor = over ? 'pointer' : ''
  }
}
