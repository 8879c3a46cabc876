import type { StatedSystem } from './stated-system.ts'

/** How a datum reaches WGS84. */
export type DatumShift =
  /** As good as WGS84: ETRS89, NAD83 and their like, within a metre or two. Assumed where only the ellipsoid says so. */
  | { readonly kind: 'none'; readonly assumed?: true }
  /** Great Britain before satellites: by way of the National Grid and OSTN15 only. */
  | { readonly kind: 'osgb36' }
  /** Ireland before satellites: by way of the Irish Grid and its polynomial only. */
  | { readonly kind: 'ireland' }
  /** Three or seven parameters: some metres. `words` is what proj4 is told. */
  | { readonly kind: 'parameters'; readonly words: string; readonly metres: number }
  | { readonly kind: 'unknown' }

const likeWgs84 = [
  /^wgs_?(19)?84/,
  /^world_geodetic_system_1984/,
  /^etrs_?(19)?89|^etrs_19|^etrf|^european_terrestrial_reference/,
  /^irenet_?95/,
  /^itrf/,
  /^(north_american|nad)_?(datum_)?(of_)?(19)?83/,
  /^rgf_?(19)?93|^reseau_geodesique_francais_1993/,
  /^gda_?(19)?94|^gda_?2020|^geocentric_datum_of_australia/,
  /^nzgd_?2000|^new_zealand_geodetic_datum_2000/,
  /^jgd_?20|^japanese_geodetic_datum_20/,
  /^sirgas|^sistema_de_referencia_geocentrico/,
  /^(chtrf_?95|swiss_terrestrial_reference_frame_1995|ch_?trf_?1995)/,
  /^(sweref_?99|euref_?fin|lks_?9[24]|reseau_national_belge_2|rdn2008)/,
]

/**
 * Datums by their names in ESRI and OGC text (a pattern, since both have variants); what proj4 is told of them: an entry of its
 * own table, whose parameters are those of the EPSG registry, or parameters; and what is left of an error, metres.
 */
const shifted: readonly (readonly [names: RegExp, words: string, metres: number])[] = [
  // EPSG transformation 1133, the mean over western Europe.
  [/^european_(datum_)?1950$|^ed_?50$/, '+towgs84=-87,-98,-121', 10],
  [/^deutsches_hauptdreiecksnetz$/, '+datum=EPSG_4314', 5],
  [/^amersfoort$/, '+datum=EPSG_4289', 5],
  [/^belge_1972$|^reseau_national_belge_1972$/, '+datum=EPSG_4313', 5],
  [/^ch_?1903$/, '+datum=EPSG_4149', 5],
  [/^mgi$|^militar_geographische_institut$/, '+datum=EPSG_4312', 5],
  [/^osni_1952$/, '+datum=EPSG_4188', 5],
  [/^monte_mario$/, '+datum=EPSG_4265', 5],
]

/** Whether an ellipsoid is that of WGS84 or GRS80. */
function modern({ a, inverseFlattening }: StatedSystem['ellipsoid']): boolean {
  return a === 6_378_137 && Math.abs(inverseFlattening - 298.257_223) < 2e-4
}

/** What is known of the datum that a definition states; for others, parameters that it states itself come first. */
export function datumShift({ datum, toWgs84, ellipsoid }: StatedSystem): DatumShift {
  if (/^osgb_?(19)?36|^ordnance_survey_of_great_britain_1936/.test(datum)) return { kind: 'osgb36' }
  if (/^(tm_?65|tm_?75|ireland_?19?65|geodetic_datum_of_1965)/.test(datum)) return { kind: 'ireland' }
  if (likeWgs84.some((pattern) => pattern.test(datum))) return { kind: 'none' }
  if (toWgs84 !== null) {
    const none = toWgs84.every((parameter) => parameter === 0)
    return none ? { kind: 'none' } : { kind: 'parameters', words: `+towgs84=${toWgs84.join(',')}`, metres: 5 }
  }
  const entry = shifted.find(([names]) => names.test(datum))
  if (/^(unknown|not_specified|unnamed|$)/.test(datum) && modern(ellipsoid))
    return { kind: 'none', assumed: true }
  return entry === undefined ? { kind: 'unknown' } : { kind: 'parameters', words: entry[1], metres: entry[2] }
}
