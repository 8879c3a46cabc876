import sharp from 'sharp'
import { expect, test } from 'vitest'
import { isoSeconds } from '#formats/time'
import { pictureKind, readExif } from './index.ts'

/** A picture written by libvips and libexif through sharp 0.35.5: other programs than the reader. */
const picture = (exif: Parameters<ReturnType<typeof sharp>['withExif']>[0], orientation?: number) => {
  const made = sharp({ create: { width: 40, height: 30, channels: 3, background: '#777' } })
    .withMetadata(orientation === undefined ? {} : { orientation })
    .withExif(exif)
  return made
    .jpeg()
    .toBuffer()
    .then((bytes) => new Uint8Array(bytes))
}
const taken = { IFD2: { DateTimeOriginal: '2026:07:02 12:34:56' } }

test('a time without a zone stays without one, whatever the zone of this computer', async () => {
  const before = process.env.TZ
  const bytes = await picture(taken)
  try {
    for (const zone of ['UTC', 'America/New_York', 'Pacific/Auckland']) {
      process.env.TZ = zone
      expect(await readExif(bytes, 'a.jpg')).toMatchObject({
        takenLocal: '2026-07-02T12:34:56',
        zone: null,
        time: null,
        faults: [],
      })
    }
  } finally {
    if (before === undefined) delete process.env.TZ
    else process.env.TZ = before
  }
})

test('a time with its zone is a time', async () => {
  const bytes = await picture({ IFD2: { ...taken.IFD2, OffsetTimeOriginal: '+01:00' } })
  expect(await readExif(bytes, 'a.jpg')).toMatchObject({
    takenLocal: '2026-07-02T12:34:56',
    zone: '+01:00',
    time: isoSeconds('2026-07-02T11:34:56Z'),
  })
})

test('place, satellite time, orientation and camera are read', async () => {
  const bytes = await picture(
    {
      IFD0: { Make: 'Lynchet', Model: 'Test 1' },
      ...taken,
      IFD3: {
        GPSLatitudeRef: 'N',
        GPSLatitude: '53/1 0/1 3600/100',
        GPSLongitudeRef: 'W',
        GPSLongitude: '0/1 24/1 0/1',
        GPSDateStamp: '2026:07:02',
        GPSTimeStamp: '11/1 34/1 56/1',
        GPSHPositioningError: '47/10',
      },
    },
    6,
  )
  const facts = await readExif(bytes, 'a.jpg')
  expect(facts).toMatchObject({
    orientation: 6,
    camera: 'Lynchet Test 1',
    time: isoSeconds('2026-07-02T11:34:56Z'),
  })
  expect(facts.place!.lat).toBeCloseTo(53.01, 9)
  expect(facts.place!.lon).toBeCloseTo(-0.4, 9)
  expect(facts.place!.accuracyM).toBeCloseTo(4.7, 9)
})

test('what cannot be is left out and told', async () => {
  const zero = '0/1 0/1 0/1'
  const bytes = await picture({
    IFD2: { DateTimeOriginal: '2026:13:45 99:00:00' },
    IFD3: { GPSLatitudeRef: 'N', GPSLatitude: zero, GPSLongitudeRef: 'E', GPSLongitude: zero },
  })
  const facts = await readExif(bytes, 'a.jpg')
  expect(facts).toMatchObject({ takenLocal: null, time: null, place: null, orientation: 1 })
  expect(facts.faults.map(({ code }) => code).toSorted()).toEqual(['bad-value', 'coordinate-out-of-range'])
})

test('a picture that says nothing of itself is read', async () => {
  const plain = sharp({ create: { width: 4, height: 3, channels: 3, background: '#777' } })
  for (const [bytes, kind] of [
    [await plain.clone().jpeg().toBuffer(), 'jpeg'],
    [await plain.clone().png().toBuffer(), 'png'],
    [await plain.clone().webp().toBuffer(), 'webp'],
    [await plain.clone().gif().toBuffer(), 'gif'],
  ] as const) {
    expect(await readExif(new Uint8Array(bytes), `a.${kind}`)).toEqual({
      kind,
      takenLocal: null,
      zone: null,
      time: null,
      orientation: 1,
      place: null,
      camera: null,
      faults: [],
    })
  }
  const tiff = new Uint8Array(await plain.clone().tiff().toBuffer())
  expect(await readExif(tiff, 'a.tif')).toMatchObject({
    kind: 'tiff',
    faults: [{ code: 'unsupported-feature' }],
  })
})

test('a WebP picture tells the same', async () => {
  const made = sharp({ create: { width: 8, height: 8, channels: 3, background: '#777' } }).withExif(taken)
  const bytes = new Uint8Array(await made.webp().toBuffer())
  expect(await readExif(bytes, 'a.webp')).toMatchObject({
    kind: 'webp',
    takenLocal: '2026-07-02T12:34:56',
    faults: [],
  })
})

test('a damaged head does not stop the picture', async () => {
  const bytes = await picture(taken)
  const at = Buffer.from(bytes).indexOf('Exif\0\0')
  for (let cut = at + 6; cut < at + 120; cut += 3) {
    const damaged = bytes.slice()
    damaged.fill(0xee, cut, cut + 8)
    const facts = await readExif(damaged, 'a.jpg')
    expect(facts.kind).toBe('jpeg')
  }
})

const heic = new Uint8Array([0, 0, 0, 24, ...Buffer.from('ftypheic\0\0\0\0mif1heic')])

test('an HEIC picture says what to do', async () => {
  const { kind, faults } = await readExif(heic, 'a.heic')
  expect(kind).toBe('heic')
  expect(faults[0]).toMatchObject({ code: 'unsupported-feature', text: expect.stringContaining('JPEG') })
})

test('kinds are told by bytes', () => {
  expect(pictureKind(heic)).toBe('heic')
  expect(pictureKind(new Uint8Array(Buffer.from('\0\0\0 ftypavif')))).toBe('avif')
  expect(pictureKind(new Uint8Array(Buffer.from('%PDF-1.7 and more')))).toBeNull()
  expect(pictureKind(new Uint8Array())).toBeNull()
})

test.each<[string, Uint8Array, string]>([
  ['nothing', new Uint8Array(), 'empty-file'],
  ['text', new Uint8Array(Buffer.from('not a picture')), 'unknown-kind'],
  ['300 MiB', new Uint8Array(300 * 2 ** 20), 'file-too-large'],
])('%s is refused in a sentence', async (_, bytes, code) => {
  await expect(readExif(bytes, 'a.jpg')).rejects.toMatchObject({
    code,
    message: expect.stringContaining('a.jpg'),
  })
})
