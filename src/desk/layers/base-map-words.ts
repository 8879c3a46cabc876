import type { BaseMap } from '#contract'

/** A template for tiles has the numbers of a tile in it; any other address is that of a WMTS. */
export function kindOfAddress(address: string): BaseMap['kind'] {
  return /\{(z|x|-?y)\}/.test(address) ? 'xyz' : 'wmts'
}

/** The server that would be asked. */
export function serverOf({ address }: Pick<BaseMap, 'address'>): string {
  return /^https?:\/\/([^/?]+)/i.exec(address)?.[1] ?? address
}
