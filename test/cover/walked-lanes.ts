import type { PlanarArea } from '#core/geometry'
import { normal, seededRandom } from '#core/random'
import type { PlanarTrack } from '#core/track'

export interface LanesWanted {
  readonly fixes: number
  /** Ground between the middles of two lanes, metres. */
  readonly spacingM: number
  /** Ground between two fixes, metres. */
  readonly stepM: number
  /** How far the walker strays to the side: standard deviation, metres, and the walk over which it changes, metres. */
  readonly strayM: number
  readonly strayOverM: number
  /** Direction of the lanes, degrees from grid north. */
  readonly bearing: number
  readonly seed: number
}

/** Lanes much like those behind the quoted timings: so strayed that about 68 % of the field is covered by W = 1.2 m. */
export const quotedLanes: Omit<LanesWanted, 'fixes'> = {
  spacingM: 1.45,
  stepM: 0.594 / 1.45,
  strayM: 0.8,
  strayOverM: 40,
  bearing: 17,
  seed: 20_261_125,
}

/**
 * A field one and a half times as long as wide, walked in lanes up and down. The walker strays from the lane as a first
 * order autoregressive process; each fix has besides a centimetre or two of its own. One second passes between fixes.
 */
export function walkedLanes(wanted: LanesWanted): { track: PlanarTrack; area: PlanarArea } {
  const { fixes, spacingM, stepM, strayM, strayOverM, seed } = wanted
  const random = seededRandom(seed)
  const areaM2 = fixes * stepM * spacingM
  const lanes = Math.round(Math.sqrt(areaM2 / 1.5) / spacingM)
  const perLane = Math.ceil(fixes / lanes)
  const width = lanes * spacingM
  const length = areaM2 / width
  const turn = (wanted.bearing * Math.PI) / 180
  const place = (across: number, along: number): [number, number] => [
    561_000 + across * Math.cos(turn) + along * Math.sin(turn),
    342_000 - across * Math.sin(turn) + along * Math.cos(turn),
  ]
  const keep = Math.exp(-stepM / strayOverM)
  const fresh = strayM * Math.sqrt(1 - keep * keep)
  const xy = new Float64Array(2 * fixes)
  let stray = 0
  for (let i = 0; i < fixes; i++) {
    const lane = Math.floor(i / perLane)
    const along = (((i % perLane) + 0.5) * length) / perLane
    stray = keep * stray + fresh * normal(random)
    const across = (lane + 0.5) * spacingM + stray + 0.02 * normal(random)
    xy.set(place(across, (lane % 2 === 0 ? along : length - along) + 0.02 * normal(random)), 2 * i)
  }
  const corners = [place(0, 0), place(width, 0), place(width, length), place(0, length), place(0, 0)]
  return {
    track: {
      epsg: 27700,
      xy,
      segmentStart: Uint32Array.of(0),
      time: Float64Array.from({ length: fixes }, (_, i) => 1.7e9 + i),
    },
    area: { epsg: 27700, polygons: [{ rings: [Float64Array.from(corners.flat())] }] },
  }
}
