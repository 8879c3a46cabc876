import type { GeoTiff } from '#formats/geotiff'

/**
 * Whether a TIFF is a picture or a terrain model, which it does not say itself; a person can say otherwise. Heights stand in one band that is neither colours of a palette nor
 * a mask: of floats, of 32-bit numbers, or of 16-bit ones that may be negative. 16-bit numbers from 0 up are heights where the file names a system of
 * heights or is of a scale and offset; else they are a picture, since sensors write such.
 */
export function tiffKind(tiff: GeoTiff): 'image' | 'terrain' {
  if (!mayBeHeights(tiff)) return 'image'
  const { picture, system, scale, offset } = tiff
  const { sampleType } = picture
  if (/^(float32|float64|int16|int32|uint32)$/.test(sampleType)) return 'terrain'
  const measured = system.heights || scale !== 1 || offset !== 0
  return sampleType === 'uint16' && measured ? 'terrain' : 'image'
}

/** Whether a TIFF can be taken as heights where a person says so: one band that is neither colours nor a mask. */
export function mayBeHeights({ picture }: GeoTiff): boolean {
  const { samples, alpha, photometric } = picture
  const bands = samples - (alpha === null ? 0 : 1)
  return bands === 1 && (photometric === 0 || photometric === 1)
}
