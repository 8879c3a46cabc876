import { fillGradientRow, gradientRow } from './gradient-row.ts'
import { checkRows, type Edges, type Terrain } from './terrain.ts'

export interface MultiHillshadeOptions {
  /** Height of the light above the horizon, degrees, 0 to 90. */
  readonly altitudeDeg: number
  /** Heights are multiplied by this. */
  readonly zFactor: number
  readonly edges: Edges
}

export interface HillshadeOptions extends MultiHillshadeOptions {
  /** Where the light comes from, degrees clockwise from grid north. */
  readonly azimuthDeg: number
}

const radians = Math.PI / 180

/** A share of full light, 0 to 1, as 1 to 255; whatever is not a number is 0, the value for no data. */
const inByte = (light: number): number => (light > 0 ? 1.5 + 254 * light : light <= 0 ? 1 : 0)

function checkAltitude(altitudeDeg: number): void {
  if (!(altitudeDeg >= 0 && altitudeDeg <= 90))
    throw new RangeError(`the light stands 0 to 90 degrees high, not ${altitudeDeg}`)
}

/**
 * Shaded relief of the rows from `rowFrom` up to `rowTo`: the cosine of the angle between the light and the normal of the
 * ground, 1 (in shade) to 255 (facing the light), 0 where there is no height.
 *
 * Method  gradient by Horn 1981 (see `fillGradientRow`); light times normal, scaled as GDAL does: 1 + 254 cos, rounded.
 * Cost    about 5 ns a cell; memory for one row. Rows of different calls do not meet: threads may share `out`.
 * Source  docs/methods/relief.md
 * Faults  RangeError for a light below the horizon, and as `checkRows`.
 */
export function hillshadeRows(
  terrain: Terrain,
  { azimuthDeg, altitudeDeg, zFactor, edges }: HillshadeOptions,
  out: Uint8Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  checkAltitude(altitudeDeg)
  const up = Math.sin(altitudeDeg * radians)
  const fromEast = Math.cos(altitudeDeg * radians) * Math.sin(azimuthDeg * radians)
  const fromNorth = Math.cos(altitudeDeg * radians) * Math.cos(azimuthDeg * radians)
  const { columns } = terrain
  const gradient = gradientRow(terrain)
  const { east, north } = gradient
  for (let row = rowFrom; row < rowTo; row++) {
    fillGradientRow(terrain, row, zFactor, edges, gradient)
    for (let c = 0, p = row * columns; c < columns; c++, p++) {
      const x = east[c]!
      const y = north[c]!
      out[p] = inByte((up - fromEast * x - fromNorth * y) / Math.sqrt(1 + x * x + y * y))
    }
  }
}

/**
 * Shaded relief lit from 225, 270, 315 and 360 degrees at once: each cell weighs a light by the square of the cosine of
 * the angle between it and the way the ground faces, so that banks of every bearing stand out. 1 to 255, 0 for no height.
 *
 * Source  the blend of four lights is Mark 1992, "A multidirectional, oblique-weighted, shaded-relief image of the Island of
 *         Hawaii", USGS Open-File Report 92-422; weights and scale are those of GDAL 3.6.2 (docs/methods/relief.md says
 *         how they differ from the report's).
 * Cost and faults as `hillshadeRows`.
 */
export function multiHillshadeRows(
  terrain: Terrain,
  { altitudeDeg, zFactor, edges }: MultiHillshadeOptions,
  out: Uint8Array,
  rowFrom: number,
  rowTo: number,
): void {
  checkRows(terrain, out, rowFrom, rowTo)
  checkAltitude(altitudeDeg)
  const up = Math.sin(altitudeDeg * radians)
  const level = Math.cos(altitudeDeg * radians)
  const slant = level * Math.SQRT1_2
  const { columns } = terrain
  const gradient = gradientRow(terrain)
  const { east, north } = gradient
  for (let row = rowFrom; row < rowTo; row++) {
    fillGradientRow(terrain, row, zFactor, edges, gradient)
    for (let c = 0, p = row * columns; c < columns; c++, p++) {
      const x = east[c]!
      const y = north[c]!
      const xx = x * x
      const yy = y * y
      const steepness = xx + yy
      // Weights times `steepness`, by the doubled angle; those of lights at right angles add up to it.
      const from225 = 0.5 * steepness + x * y
      const lit =
        from225 * Math.max(0, up + slant * (x + y)) +
        xx * Math.max(0, up + level * x) +
        (steepness - from225) * Math.max(0, up + slant * (x - y)) +
        yy * Math.max(0, up - level * y)
      out[p] = inByte(steepness === 0 ? up : (0.5 * lit) / (steepness * Math.sqrt(1 + steepness)))
    }
  }
}

/** Shaded relief of a whole terrain; see `hillshadeRows`. */
export function hillshade(terrain: Terrain, options: HillshadeOptions): Uint8Array {
  const out = new Uint8Array(terrain.values.length)
  hillshadeRows(terrain, options, out, 0, terrain.rows)
  return out
}

/** Shaded relief of a whole terrain, lit from four sides; see `multiHillshadeRows`. */
export function multiHillshade(terrain: Terrain, options: MultiHillshadeOptions): Uint8Array {
  const out = new Uint8Array(terrain.values.length)
  multiHillshadeRows(terrain, options, out, 0, terrain.rows)
  return out
}
