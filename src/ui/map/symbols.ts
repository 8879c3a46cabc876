import type { ColourRole } from '../look/roles.ts'

/** A line on the map: its colour by role, width in pixels, and dash as pixels of ink and gap (none for a plain line). */
export interface LineSymbol {
  readonly colour: ColourRole
  readonly width: number
  readonly dash: readonly number[]
  /** Width of the pale line under it, which keeps it legible on any ground. */
  readonly casing: number
}

/** The lines of the map. No two share a dash, so they stay apart without colour. */
export const lineSymbols = {
  area: { colour: 'area', width: 2.5, dash: [14, 4, 3, 4], casing: 5 },
  track: { colour: 'track', width: 1.25, dash: [], casing: 0 },
  planned: { colour: 'track', width: 1.75, dash: [1, 5], casing: 0 },
  gap: { colour: 'gap', width: 1.75, dash: [6, 3], casing: 4 },
  /** Gaps from far, where many lie close together: thin, so that the cover between them stays legible. */
  gapFar: { colour: 'gap', width: 1, dash: [4, 2], casing: 0 },
  /** Lanes of a plan, and the walks between them. */
  lane: { colour: 'track', width: 1.5, dash: [12, 2], casing: 0 },
  way: { colour: 'track', width: 1, dash: [1, 4], casing: 0 },
  /** A plan as it was walked: lanes walked, lanes missed, and ways along no lane. */
  laneWalked: { colour: 'area', width: 2.5, dash: [22, 2], casing: 5 },
  laneMissed: { colour: 'gap', width: 3, dash: [7, 5], casing: 5.5 },
  strayed: { colour: 'selected', width: 3.5, dash: [1, 7], casing: 6 },
  /** What is to be left alone, and ground of other kinds than that to be searched. */
  constraint: { colour: 'gap', width: 2.25, dash: [2, 3, 8, 3], casing: 4.5 },
  noGo: { colour: 'gap', width: 2.5, dash: [4, 4], casing: 5 },
  hazard: { colour: 'gap', width: 2, dash: [10, 3, 2, 3, 2, 3], casing: 4.5 },
  field: { colour: 'area', width: 1.25, dash: [16, 6], casing: 3 },
  /** Marks by what was decided of them; all but the first have a sign at the middle besides. */
  candidate: { colour: 'mark', width: 2.25, dash: [8, 5], casing: 4.5 },
  accepted: { colour: 'mark', width: 2.75, dash: [], casing: 5.5 },
  unsure: { colour: 'mark', width: 2.25, dash: [3, 4, 10, 4], casing: 4.5 },
  rejected: { colour: 'mark', width: 1.25, dash: [2, 6], casing: 3 },
  selected: { colour: 'selected', width: 3.5, dash: [], casing: 7 },
  /** A chosen track: thinner, since its lanes lie side by side. */
  selectedTrack: { colour: 'selected', width: 2, dash: [], casing: 3.5 },
  /** The square that a reference names. */
  square: { colour: 'selected', width: 2, dash: [2, 3], casing: 4.5 },
  /** A line being measured, banded like a ranging rod: the rod, and the pale bands upon it. */
  rod: { colour: 'ink', width: 4, dash: [], casing: 7 },
  rodBands: { colour: 'halo', width: 1.75, dash: [9, 9], casing: 0 },
} as const satisfies Record<string, LineSymbol>
export type LineSymbolName = keyof typeof lineSymbols

/** Slanting lines that fill a gap: distance between them and their width, pixels. */
export const gapHatch = { pitch: 7, width: 1 } as const

/** Half the diagonal of the findspot's diamond, pixels. `many` is used where thousands are in sight. */
export const findspotSize = { plain: 6.5, many: 2, selected: 9 } as const

/** Half the height of a target's peg, pixels. */
export const targetReach = { plain: 9, selected: 12 } as const

/** A diamond around a point, as the corners east, south, west, north of it. */
export function diamond(x: number, y: number, reach: number): readonly (readonly [number, number])[] {
  return [
    [x + reach, y],
    [x, y + reach],
    [x - reach, y],
    [x, y - reach],
  ]
}

interface DiamondColours {
  readonly ink: string
  readonly halo: string
}

type Pen = Pick<
  CanvasRenderingContext2D,
  | 'beginPath'
  | 'moveTo'
  | 'lineTo'
  | 'closePath'
  | 'fill'
  | 'stroke'
  | 'fillStyle'
  | 'strokeStyle'
  | 'lineWidth'
>

/** Draws one findspot: a filled diamond with a pale rim and a pale heart. */
export function drawFindspot(pen: Pen, x: number, y: number, reach: number, colours: DiamondColours): void {
  const trace = (size: number): void => {
    pen.beginPath()
    diamond(x, y, size).forEach(([px, py], i) => {
      if (i === 0) pen.moveTo(px, py)
      else pen.lineTo(px, py)
    })
    pen.closePath()
  }
  trace(reach)
  pen.fillStyle = colours.ink
  pen.strokeStyle = colours.halo
  pen.lineWidth = 3
  pen.stroke()
  pen.fill()
  trace(reach * 0.36)
  pen.fillStyle = colours.halo
  pen.fill()
}
