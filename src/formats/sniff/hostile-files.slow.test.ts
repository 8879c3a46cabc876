import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import { readFile } from './index.ts'

/** Files of a megabyte or two made so that a careless reader takes minutes; each must take a moment. */
const many = 200_000
const hostile: Readonly<Record<string, () => string>> = {
  'bad fixes.gpx': () => `<gpx><trk><trkseg>${'<trkpt lat="x" lon="y"/>'.repeat(many)}`,
  'links.gpx': () =>
    `<gpx><trk>${Array.from({ length: many }, (_, i) => `<link href="${i}"/>`).join('')}</trk></gpx>`,
  'kinds.gpx': () =>
    `<gpx><wpt lat="1" lon="2">${Array.from({ length: many }, (_, i) => `<e${i}/>`).join('')}</wpt></gpx>`,
  'tracks.gpx': () => `<gpx>${'<trk/>'.repeat(many)}</gpx>`,
  'entities.gpx': () => `<gpx><wpt lat="1" lon="2"><name>${'&nbsp;'.repeat(many)}</name></wpt></gpx>`,
  'ampersands.gpx': () => `<gpx>${'&<!--&<![CDATA[&'.repeat(many)}`,
  'attributes.gpx': () =>
    `<gpx><wpt lat="1" lon="2" ${Array.from({ length: 50_000 }, (_, i) => `a${i}=""`).join(' ')}/></gpx>`,
  'tuples.kml': () =>
    `<kml><Placemark><LineString><coordinates>${'x\n'.repeat(many)}</coordinates></LineString></Placemark></kml>`,
  'data.kml': () =>
    `<kml><Placemark><ExtendedData>${Array.from({ length: many }, (_, i) => `<Data name="a"><value>${i}</value></Data>`).join('')}</ExtendedData><Point><coordinates>1,2</coordinates></Point></Placemark></kml>`,
  'placemarks.kml': () => `<kml>${'<Placemark/>'.repeat(many)}</kml>`,
  'columns.csv': () => `lat,lon${','.repeat(many)}\n1,2${',x'.repeat(many)}\n`,
  'rows.csv': () => `lat,lon\n${'x,y\n'.repeat(many)}`,
  'quotes.csv': () => `lat,lon,a\n${'1,2,"\n'.repeat(many)}`,
  'references.csv': () => `ngr\n${'N'.repeat(many)}\n${'52 30 '.repeat(many)}\n`,
  'times.csv': () =>
    `lat,lon,time\n1,2,${'T-01 '.repeat(many)}\n1,2,2024-05-01T10:00:00.${'1'.repeat(many)}\n`,
  'features.geojson': () => `{"type":"FeatureCollection","features":[${'1,'.repeat(many)}1]}`,
  'cut.geojson': () =>
    `{"type":"FeatureCollection","features":[${'{"type":"Feature","geometry":null},'.repeat(many / 4)}`,
  'deep.geojson': () => `{"type":"Point","coordinates":${'['.repeat(many)}`,
  'keys.geojson': () =>
    `{"type":"Feature","geometry":{"type":"Point","coordinates":[1,2]},"properties":{${Array.from({ length: many / 4 }, (_, i) => `"name${i}":1`).join(',')}}}`,
}

test.each(Object.entries(hostile))('%s ends in content or in words', (name, make) => {
  const bytes = new TextEncoder().encode(make())
  try {
    const content = readFile(name, bytes)
    expect(content.faults.length).toBeLessThan(420)
    for (const { text } of content.faults) expect(text.length).toBeLessThan(500)
  } catch (cause) {
    if (!(cause instanceof SurveyError)) throw cause
    expect(cause.message.length).toBeLessThan(500)
  }
})
