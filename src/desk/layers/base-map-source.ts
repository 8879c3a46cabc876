import WMTSCapabilities from 'ol/format/WMTSCapabilities.js'
import { addCoordinateTransforms, get as projectionOf } from 'ol/proj.js'
import type TileImage from 'ol/source/TileImage.js'
import WMTS, { optionsFromCapabilities } from 'ol/source/WMTS.js'
import XYZ from 'ol/source/XYZ.js'
import { type BaseMap, originOf } from '#contract'
import { decodeShiftGrid, planarGrid } from '#core/geodesy'
import { deskApi } from '../api/desk-api.ts'
import { planProjection } from '../map/plan-projection.ts'
import { gridToMercator } from './web-mercator.ts'

const mercator = 'EPSG:3857'

/** Lets the map lay web mercator in a survey's grid, by the same sums that placed its records. Once for each grid. */
const reaching = new Map<number, Promise<void>>()
function reachMercator(epsg: number): Promise<void> {
  const known = reaching.get(epsg)
  if (known) return known
  const made = (async () => {
    const shift = epsg === 27_700 ? decodeShiftGrid(await deskApi.shiftGrid()) : null
    const { there, back } = gridToMercator(planarGrid(epsg, shift))
    addCoordinateTransforms(planProjection(epsg), projectionOf(mercator)!, there, back)
  })()
  reaching.set(epsg, made)
  made.catch(() => reaching.delete(epsg))
  return made
}

/** What is read of the capabilities here. */
interface Capabilities {
  readonly Contents?: { readonly Layer?: readonly { readonly Identifier: string }[] }
}

async function wmtsSource({ name, address, layer }: BaseMap): Promise<TileImage> {
  let text: string
  try {
    const reply = await fetch(address, { credentials: 'omit' })
    if (!reply.ok) throw new Error(`it answered with ${reply.status}`)
    text = await reply.text()
  } catch (cause) {
    throw new Error(
      `${name} did not say what it holds (${cause instanceof Error ? cause.message : 'no answer'}): its address may be wrong, or it does not let other pages ask.`,
      { cause },
    )
  }
  const capabilities = new WMTSCapabilities().read(text) as Capabilities | null
  const layers = capabilities?.Contents?.Layer ?? []
  const wanted = layer ?? layers[0]?.Identifier
  const options =
    capabilities && wanted !== undefined && layers.some(({ Identifier }) => Identifier === wanted)
      ? optionsFromCapabilities(capabilities, { layer: wanted, projection: mercator })
      : null
  if (!options || projectionOf(options.projection)?.getCode() !== mercator) {
    const names = layers.slice(0, 12).map(({ Identifier }) => Identifier)
    throw new Error(
      `${name} has no layer ${wanted ?? ''} in web mercator (EPSG:3857). Its layers: ${names.join(', ') || 'none that could be read'}.`,
    )
  }
  const own = originOf(address)
  const other = options.urls?.find((url) => originOf(url) !== own)
  if (other !== undefined)
    throw new Error(
      `${name} keeps its tiles on another server (${originOf(other)}) than the one whose address was given, so they may not be asked for.`,
    )
  return new WMTS({ ...options, crossOrigin: 'anonymous', transition: 0 })
}

/**
 * The tiles of a base map, to be laid in a survey's grid. They are asked for without cookies, and only where the map looks. Faults: Error
 * with the sentence to show.
 */
export async function sourceOf(map: BaseMap, epsg: number): Promise<TileImage> {
  await reachMercator(epsg)
  if (map.kind === 'wmts') return wmtsSource(map)
  return new XYZ({ url: map.address, crossOrigin: 'anonymous', transition: 0, projection: mercator })
}
