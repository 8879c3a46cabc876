import type { LanesWalkedView } from '#contract'
import type { WalkedLanes } from '../map/walked-lanes-layer.ts'

type Lane = LanesWalkedView['lanes'][number]

/** The name of a lane: its number, and its walker where there are several. */
export function laneName({ walker, number }: Pick<Lane, 'walker' | 'number'>, several: boolean): string {
  return several ? `Lane ${number} of walker ${walker}` : `Lane ${number}`
}

/** West, south, east and north of a line of pairs. */
export function boundsOfPairs(xy: readonly number[]): [number, number, number, number] {
  const east = xy.filter((_, i) => i % 2 === 0)
  const north = xy.filter((_, i) => i % 2 === 1)
  return [Math.min(...east), Math.min(...north), Math.max(...east), Math.max(...north)]
}

/** The lines that the map draws: whole lanes under the parts of them that were missed. */
export function walkedLines({ lanes, strayings }: LanesWalkedView): WalkedLanes {
  return {
    walked: lanes.filter(({ state }) => state !== 'skipped').map(({ xy }) => xy),
    missed: lanes.flatMap(({ missed }) => missed.map(({ xy }) => xy)).filter(({ length }) => length >= 4),
    strayed: strayings.map(({ xy }) => xy),
  }
}
