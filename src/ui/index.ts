export { contrastRatio, rgbOf } from './look/contrast.ts'
export type { LookChoice } from './look/look-choice.ts'
export { LookProvider, useLook } from './look/look-provider.tsx'
export { type ColourRole, colourRoles, type Look, looks, shapePairs, textPairs } from './look/roles.ts'
export { chanceRamp } from './map/chance-ramp.ts'
export { Legend, LegendEntry, RampLegend } from './map/legend.tsx'
export { passRamp } from './map/pass-ramp.ts'
export { NorthMark, ScaleBar } from './map/scale-bar.tsx'
export { FindspotSwatch, LineSwatch, MarkSwatch, TargetSwatch } from './map/swatch.tsx'
export {
  drawFindspot,
  findspotSize,
  gapHatch,
  type LineSymbol,
  lineSymbols,
  targetReach,
} from './map/symbols.ts'
export { Card } from './parts/card.tsx'
export { type Column, DataGrid, gridHeight, useScroll } from './parts/data-grid.tsx'
export { Dialog } from './parts/dialog.tsx'
export { EmptyState } from './parts/empty-state.tsx'
export { type Fact, FactList } from './parts/fact-list.tsx'
export { FigureTile, FigureTiles, ShareFigure } from './parts/figure-tile.tsx'
export { FormRow, NumberRow } from './parts/form-row.tsx'
export { KeyCap } from './parts/key-cap.tsx'
export { Notice, type NoticeTone } from './parts/notice.tsx'
export { numberFrom } from './parts/number-text.ts'
export { Panel, Section } from './parts/panel.tsx'
export { ProgressBar } from './parts/progress-bar.tsx'
export { rowForKey, rowWindow } from './parts/row-window.ts'
export { BarPlot } from './plot/bar-plot.tsx'
export { LinePlot } from './plot/line-plot.tsx'
export { roundBelow, roundStep } from './plot/ticks.ts'
export {
  areaText,
  countText,
  durationText,
  lengthText,
  measuredText,
  momentText,
  shareText,
  squareMetresText,
  threeFigures,
  wholeNumber,
} from './words/figures.ts'
export { bearingText, convergenceText, gridNumber, latLonText, plainPair } from './words/places.ts'
