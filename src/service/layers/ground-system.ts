import { type PlanarGrid, planarGrid } from '#core/geodesy'
import {
  type PairConversion,
  type SourceSystem,
  systemFromEpsg,
  systemFromWkt,
} from '#formats/coordinate-system'
import type { StoredLayer } from '#store'
import { ostn15 } from '#work'
import { inverseOf } from './inverse-conversion.ts'

/** The system that a layer's placing leads to, against the survey's grid. Both ways fill `out`, which may be the input; NaN where not reached. */
export interface GroundSystem {
  readonly name: string
  readonly toGrid: PairConversion
  readonly fromGrid: PairConversion
  /** True where it is the survey's grid itself. */
  readonly same: boolean
  /** What the way between the two may be wrong by, metres; null where there is none or it is not known. */
  readonly expectedErrorM: number | null
  /** What was assumed of it, for the user; null if nothing. */
  readonly note: string | null
}

const wgs84 = 4326
const same: PairConversion = (xy, out) => {
  if (out !== xy) out.set(xy)
}

/** The system of a code or of the text of a .prj file; null for one that is not known here. */
export function knownSystem(epsg: number | null, systemText: string | null): SourceSystem | null {
  if (epsg !== null) return systemFromEpsg(epsg)
  if (systemText === null) return null
  const system = systemFromWkt(systemText)
  return 'reason' in system ? null : system
}

/** How a layer's ground lies to the survey's grid; null where its system is not known. A layer placed by tie points is in the grid. */
export function groundSystem(
  { epsg, systemText, placedBy }: Pick<StoredLayer, 'epsg' | 'systemText' | 'placedBy'>,
  grid: PlanarGrid,
): GroundSystem | null {
  if (placedBy === 'tie-points') return sameSystem(grid, null)
  const system = knownSystem(epsg, systemText)
  return system && systemAgainst(system, grid)
}

const sameSystem = (grid: PlanarGrid, note: string | null): GroundSystem => ({
  name: grid.name,
  toGrid: same,
  fromGrid: same,
  same: true,
  expectedErrorM: null,
  note,
})

function systemAgainst({ name, epsg, convert, note }: SourceSystem, grid: PlanarGrid): GroundSystem {
  if (epsg === grid.epsg && convert === null) return sameSystem(grid, note)
  const between = epsg === wgs84 || epsg === grid.epsg ? null : planarGrid(epsg, ostn15())
  const forward: PairConversion = (xy, out) => {
    if (epsg === grid.epsg) return same(xy, out)
    if (between) between.inverse(xy, out)
    grid.forward(between ? out : xy, out)
  }
  const backward: PairConversion = (xy, out) => {
    if (epsg === grid.epsg) return same(xy, out)
    grid.inverse(xy, out)
    if (between) between.forward(out, out)
  }
  const back = convert && inverseOf(convert)
  return {
    name,
    same: false,
    toGrid: (xy, out) => {
      if (convert) convert(xy, out)
      forward(convert ? out : xy, out)
    },
    fromGrid: (xy, out) => {
      backward(xy, out)
      if (back) back(out, out)
    },
    // The error of a shift by parameters is told by the note, which has its metres.
    expectedErrorM: convert ? null : grid.expectedErrorM + (between?.expectedErrorM ?? 0),
    note,
  }
}
