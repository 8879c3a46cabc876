import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import type { RecordedFindspot } from '#core/record'
import { isoSeconds } from '#formats/time'
import { cellSeconds, dayOrderOf } from './cell-time.ts'
import { delimiterOf } from './delimiter.ts'
import { type CsvContent, readCsv } from './index.ts'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const read = (text: string, epsg?: number): CsvContent =>
  readCsv(utf8(text), { fileName: 'finds.csv', ...(epsg ? { epsg } : {}) })
const codes = (content: CsvContent): string[] => content.faults.map(({ code }) => code)
const only = (text: string): RecordedFindspot => {
  const { findspots, faults } = read(text)
  expect(findspots, JSON.stringify(faults)).toHaveLength(1)
  return findspots[0]!
}

test('a table of finds', () => {
  const content = read(
    `Find No.,Object Type,Material,Period,Qty,Weight (kg),Depth (cm),Latitude,Longitude,Accuracy (m),Date found,Notes,Finder
NST-2024-001,Buckle,Copper alloy,Medieval,2,0.0125,15,52.5,0.25,3,2024-05-01,"near the gate, wet",Ann
,,,,,,,52.6,0.25,,,,
`,
  )
  expect(content.findspots).toEqual([
    {
      epsg: 4326,
      name: null,
      x: 0.25,
      y: 52.5,
      accuracyM: 3,
      elevation: null,
      time: isoSeconds('2024-05-01'),
      note: 'near the gate, wet',
      find: {
        number: 'NST-2024-001',
        object: 'Buckle',
        material: 'Copper alloy',
        period: 'Medieval',
        count: 2,
        weightG: 12.5,
        depthM: 0.15,
      },
      attributes: { Finder: 'Ann' },
    },
    expect.objectContaining({ y: 52.6, find: null, note: null, time: null }),
  ])
  expect(content.faults).toEqual([])
  expect(content.table).toMatchObject({ delimiter: ',', headerLine: 1, kind: 'findspots' })
  expect(content.table!.columns[5]).toEqual({ header: 'Weight (kg)', field: 'weight', unit: 'kg' })
  expect(content.table!.columns[12]).toEqual({ header: 'Finder', field: null, unit: null })
})

test.each([
  ['lat,lon\n52.5,-0.25'],
  ['Lon,Lat\n-0.25,52.5'],
  ['GPS Latitude;GPS Longitude\n52,5;-0,25'],
  ['latitude\tlongitude\n52.5\t-0.25'],
  ['Breitengrad|Längengrad\n52.5|-0.25'],
  ['X,Y\n-0.25,52.5'],
  ['WGS84_Lat,WGS84_Long\n52.5,-0.25'],
  ['Lat (deg),Lng (deg)\n"52°30\'00""N","0°15\'00""W"'],
  ['Coordinates\n"52.5, -0.25"'],
  ['52.5,-0.25'],
  ['sep=;\nlat;lon\n52,5;-0,25'],
  ['Finds of the north field\n\nLat,Lon\n52.5,-0.25'],
  ['\uFEFFlat,lon\r\n52.5,-0.25\r\n'],
])('the position in %j is found', (text) => {
  const spot = only(text)
  expect([spot.epsg, spot.x, spot.y]).toEqual([4326, -0.25, 52.5])
})

// "A guide to coordinate systems in Great Britain" (Ordnance Survey): Caister water tower, 651409.903, 313177.270.
test.each([
  ['Easting,Northing\n651409.903,313177.270', undefined, 27700, 651409.903, 313177.27],
  ['OS_E,OS_N\n651409.903,313177.270', undefined, 27700, 651409.903, 313177.27],
  ['x,y\n651409.903,313177.270', undefined, 27700, 651409.903, 313177.27],
  ['E,N\n651409.903,313177.270', 32631, 32631, 651409.903, 313177.27],
  ['easting,northing,epsg\n651409.903,313177.270,EPSG:2157', 27700, 2157, 651409.903, 313177.27],
  ['651409.903,313177.270', undefined, 27700, 651409.903, 313177.27],
])('%j is planar', (text, epsg, expected, x, y) => {
  const [spot] = read(text, epsg).findspots
  expect([spot!.epsg, spot!.x, spot!.y]).toEqual([expected, x, y])
})

test('an unstated grid is said to be assumed', () => {
  expect(read('easting,northing\n651409,313177').faults).toEqual([
    {
      line: null,
      code: 'assumed',
      text: 'Eastings and northings were taken to be metres of British National Grid (EPSG:27700).',
    },
  ])
  expect(codes(read('easting,northing,epsg\n651409,313177,27700'))).toEqual([])
})

// The squares that the letters name: Ordnance Survey, "Using the National Grid"; an Irish one from the Ordnance Survey Ireland.
test.each([
  ['TG 514 131', 27700, 651450, 313150, 50 * Math.SQRT2],
  ['TG5140913177', 27700, 651409.5, 313177.5, 0.5 * Math.SQRT2],
  ['TG51', 27700, 655000, 315000, 5000 * Math.SQRT2],
  ['O 159 344', 29903, 315950, 234450, 50 * Math.SQRT2],
])('grid reference %s is the middle of its square', (reference, epsg, x, y, accuracyM) => {
  for (const header of ['NGR', 'Grid reference', 'OS Grid Ref', 'gridref', 'position']) {
    const spot = only(`${header}\n${reference}\n`)
    expect(spot).toMatchObject({ epsg, x, y })
    expect(spot.accuracyM).toBeCloseTo(accuracyM, 9)
  }
})

test('a row takes its position from the columns it fills', () => {
  const { findspots } = read('object,lat,lon,grid ref\na,52,1,TG 514 131\nb,,,TG 514 131')
  expect(findspots.map(({ epsg }) => epsg)).toEqual([4326, 27700])
  expect(findspots[0]!.attributes).toEqual({ 'grid ref': 'TG 514 131' })
})

test('rows without a usable position are left out, each with its line', () => {
  const content = read(
    `name,lat,lon\na,52,0\nb,x,0\nc,,\nd,95,200\ne,120,45\n"f
g",52,999\nh,53,1\n`,
  )
  expect(content.findspots.map(({ name }) => name)).toEqual(['a', 'h'])
  expect(content.faults.map(({ line, code }) => [line, code])).toEqual([
    [3, expect.stringMatching(/^bad-(value|coordinate)$/)],
    [4, 'bad-value'],
    [5, 'coordinate-out-of-range'],
    [6, 'coordinates-swapped'],
    [8, 'coordinate-out-of-range'],
  ])
})

test('positions in systems that are no grid to work in become WGS84, and what a shift leaves is said', () => {
  // PROJ 9.1.1: gdaltransform -s_srs EPSG:3857 (3035, 28992) -t_srs EPSG:4326.
  const content = read(
    'x,y,epsg\n-189243.134348565,6964522.0056376,3857\n4256873.1040428,3021270.53792213,EPSG:3035\n189944.596962717,479125.460780648,28992\n',
  )
  const places = content.findspots.map(({ epsg, x, y }) => [epsg, x.toFixed(7), y.toFixed(7)])
  expect(places.slice(0, 2)).toEqual([
    [4326, '-1.7000000', '52.9000000'],
    [4326, '9.1000000', '50.3000000'],
  ])
  expect(content.findspots[2]!.x).toBeCloseTo(5.899_489_53, 6)
  expect(content.findspots[2]!.y).toBeCloseTo(52.298_994_33, 6)
  expect(content.faults).toMatchObject([{ code: 'assumed', text: expect.stringContaining('about 5 m out') }])
})

test('UTM on ETRS89 is UTM; latitude and longitude on OSGB36 go by way of the National Grid', () => {
  const [utm] = read('easting,northing,epsg\n391637.368,5828977.441,25831').findspots
  expect(utm).toMatchObject({ epsg: 32_631, x: 391_637.368, y: 5_828_977.441 })
  // cs2cs 9.1.1, EPSG:4277 to EPSG:27700: no change of datum.
  const [old] = read('lat,lon,epsg\n53.1,-1.5,4277').findspots
  expect(old!.epsg).toBe(27_700)
  expect(old!.x).toBeCloseTo(433_474.2627, 3)
  expect(old!.y).toBeCloseTo(356_016.4375, 3)
  const [beside] = read('lat,lon,easting,northing,epsg\n53.1,-1.5,433474,356016,27700').findspots
  expect(beside).toMatchObject({ epsg: 4326, x: -1.5, y: 53.1 })
})

test('a position outside the grid or in an unknown one is left out', () => {
  expect(codes(read('easting,northing\n651409,1313177'))).toEqual(['coordinate-out-of-range'])
  expect(codes(read('easting,northing,epsg\n651409,313177,9999'))).toEqual(['unknown-system'])
  expect(codes(read('easting,northing,epsg\n651409,313177,my grid'))).toEqual(['bad-value'])
  expect(codes(read('lat,lon,epsg\n52,1,9999'))).toEqual(['unknown-system'])
  expect(codes(read('ngr\nZZ 12 34\nTG 51 1'))).toEqual(['coordinate-out-of-range', 'bad-coordinate'])
})

test('a value that cannot be read costs the value and is kept as it stands', () => {
  const content = read('lat,lon,object,weight,count,depth (cm),time\n52,0,coin,heavy,two,deep,noon')
  expect(content.findspots[0]).toMatchObject({
    find: { object: 'coin', weightG: null, count: 1, depthM: null },
    time: null,
    attributes: { weight: 'heavy', count: 'two', 'depth (cm)': 'deep', time: 'noon' },
  })
  expect(content.faults.map(({ line, code }) => [line, code])).toEqual(Array(4).fill([2, 'bad-value']))
})

test.each([
  ['weight', '12.5', 12.5],
  ['weight (g)', '12.5', 12.5],
  ['Weight kg', '0.5', 500],
  ['weight_mg', '500', 0.5],
  ['weight', '1.5 kg', 1500],
  ['weight (oz)', '1', 28.349523125],
])('%s %s is %d g', (header, cell, grams) => {
  expect(only(`lat,lon,object,${header}\n52,0,x,${cell}`).find!.weightG).toBeCloseTo(grams, 9)
})

test.each([
  ['depth (cm)', '15', 0.15, false],
  ['depthM', '0.15', 0.15, false],
  ['depth_mm', '150', 0.15, false],
  ['Depth (inches)', '10', 0.254, false],
  ['depth', '15', 0.15, true],
  ['depth', '0.15', 0.15, true],
  ['depth', '15cm', 0.15, false],
])('%s %s is %d m', (header, cell, metres, assumed) => {
  const content = read(`lat,lon,object,${header}\n52,0,x,${cell}`)
  expect(content.findspots[0]!.find!.depthM).toBeCloseTo(metres, 12)
  expect(codes(content)).toEqual(assumed ? ['assumed'] : [])
})

test('text that looks like a formula stays text; the apostrophe that guards it is taken off', () => {
  const { findspots } = read(
    `lat,lon,name,note\n52,0,=1+1,"=HYPERLINK(""x"")"\n52,0,'=1+1,''@a\n52,0,-5,'quoted`,
  )
  expect(findspots.map(({ name, note }) => [name, note])).toEqual([
    ['=1+1', '=HYPERLINK("x")'],
    ['=1+1', "'@a"],
    ['-5', "'quoted"],
  ])
})

test.each([
  ['time only', 'lat,lon,time\n52,0,2024-05-01T10:00:00Z\n52.1,0,2024-05-01T10:00:01Z'],
  ['date and clock', 'No,Date,Time,Lat,Lon\n1,01/05/2024,10:00:00,52,0\n2,01/05/2024,10:00:01,52.1,0'],
  ['epoch', 'timestamp;lat;lon\n1714557600;52;0\n1714557601;52.1;0'],
  ['no header', '52,0,2024-05-01T10:00:00Z\n52.1,0,2024-05-01T10:00:01Z'],
])('a table with %s is a track', (_, text) => {
  const { tracks, findspots } = read(text)
  expect(findspots).toEqual([])
  expect(tracks).toHaveLength(1)
  const t = isoSeconds('2024-05-01T10:00:00Z')
  expect([...tracks[0]!.xy]).toEqual([0, 52, 0, 52.1])
  expect([...tracks[0]!.time!]).toEqual([t, t + 1])
})

test('tracks and segments are told apart; planar ones keep their grid', () => {
  const { tracks } = read(
    `track,segment,easting,northing,hdop,speed,ele (ft)
A,1,500000,300000,1.5,0.4,100
A,1,500001,300000,,,
B,1,500000,300010,,,
A,2,500002,300000,,0.5,`,
    27700,
  )
  expect(tracks.map(({ name, epsg, walked }) => [name, epsg, walked])).toEqual([
    ['A', 27700, true],
    ['B', 27700, true],
  ])
  expect([...tracks[0]!.xy]).toEqual([500000, 300000, 500001, 300000, 500002, 300000])
  expect([...tracks[0]!.segmentStart]).toEqual([0, 2])
  expect(tracks[0]!.hdop![0]).toBe(1.5)
  expect(tracks[0]!.elevation![0]).toBeCloseTo(30.48, 9)
  expect(tracks[0]!.extras).toEqual([{ name: 'speed', at: [0, 2], text: ['0.4', '0.5'] }])
})

test('an object column makes findspots of a table with times', () => {
  expect(read('lat,lon,time,object\n52,0,2024-05-01T10:00:00Z,coin').findspots).toHaveLength(1)
  expect(read('find no,lat,lon,date found\n1,52,0,2024-05-01').findspots).toHaveLength(1)
})

test('corners listed by area and ring are areas', () => {
  const { areas, faults } = read(
    `area,part,ring,lat,lon\nN,1,1,0,0\nN,1,1,0,1\nN,1,1,1,1\nN,1,1,0,0\nN,1,2,0.1,0.2\nN,1,2,0.1,0.3\nN,1,2,0.2,0.3\nbad,1,1,0,0\n`,
  )
  expect(areas).toHaveLength(1)
  expect(areas[0]!.name).toBe('N')
  expect(areas[0]!.polygons[0]!.rings.map((ring) => ring.length / 2)).toEqual([4, 4])
  expect(faults).toMatchObject([{ code: 'area-invalid', line: 9 }])
})

test.each([
  ['', ['empty-file']],
  ['lat,lon\n', ['empty-file']],
  ['name,colour\na,b\n', ['missing-columns']],
  ['lat,colour\n52,b\n', ['missing-columns']],
  ['lat,lon,note\n52,0,"never closed\n53,0,x\n', ['broken-file']],
])('%j is %j', (text, expected) => expect(codes(read(text))).toEqual(expected))

test('the rows before an open quotation mark are kept', () => {
  const content = read('lat,lon,note\n51,0,a\n52,0,"never closed\n53,0,x\n')
  expect(content.findspots.map(({ y }) => y)).toEqual([51])
  expect(content.faults[0]!.text).toContain('Reading stopped after line 2')
})

test('dates: the day comes first unless no other order makes sense', () => {
  expect(dayOrderOf(['01/02/2024', '13/02/2024'])).toBe('day first')
  expect(dayOrderOf(['01/02/2024', '02/13/2024'])).toBe('month first')
  expect(dayOrderOf(['01/02/2024'])).toBe('day first')
})

test.each([
  ['31/05/2024', '', '2024-05-31T00:00:00Z'],
  ['31.5.24 9:05', '', '2024-05-31T09:05:00Z'],
  ['31 May 2024', '2:30 pm', '2024-05-31T14:30:00Z'],
  ['Friday, 31st May 2024', '12:00 am', '2024-05-31T00:00:00Z'],
  ['2024-05-31', '14:30:15.25', '2024-05-31T14:30:15.25Z'],
  ['31/05/2024', '14:30+01:00', '2024-05-31T13:30:00Z'],
  ['31/05/2024 00:00:00', '14:30', '2024-05-31T14:30:00Z'],
  ['1717165815500', '', '2024-05-31T14:30:15.5Z'],
])('%s %s is %s', (date, clock, iso) => {
  expect(cellSeconds(date, clock, 'day first')).toBe(isoSeconds(iso))
})

test.each([
  ['31/02/2024', ''],
  ['noon', ''],
  ['31/05/2024', '25:00'],
  ['31/05/2024', '13:00 pm'],
  ['31 Mayhem 2024 x', ''],
  ['12345', ''],
])('%s %s is no time', (date, clock) => expect(cellSeconds(date, clock, 'day first')).toBeNaN())

test('the delimiter is found whatever the cells hold', () => {
  const cell = fc.string({ unit: fc.constantFrom('a', '1', ' ', '.', ',', ';', '"'), maxLength: 6 })
  fc.assert(
    fc.property(
      fc.constantFrom(',', ';', '\t', '|'),
      fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 8 }),
      (delimiter, rows) => {
        const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`
        const lines = [['lat', 'lon', 'note'], ...rows.map((row) => [...row.map(quoted), 'x'])]
        expect(delimiterOf(lines.map((line) => line.join(delimiter)).join('\n'))).toBe(delimiter)
      },
    ),
  )
})
