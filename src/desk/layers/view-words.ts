import type { Layer, LayerView } from '#contract'

export type ViewName = LayerView['view']
export type ViewNumber = Exclude<keyof LayerView, 'view'>

interface ViewWords {
  readonly name: string
  /** One sentence: what it shows. */
  readonly tells: string
  /** The numbers that it goes by. */
  readonly numbers: readonly ViewNumber[]
  /** True where the whole terrain must be gone through first. */
  readonly far?: boolean
}

const lookAround: readonly ViewNumber[] = ['radiusM', 'directions', 'exaggeration', 'cutPercent']

export const viewWords: Readonly<Record<ViewName, ViewWords>> = {
  hillshade: {
    name: 'Hillshade',
    tells: 'The ground lit from one side: banks across the light stand out, banks along it vanish.',
    numbers: ['azimuth', 'altitude', 'exaggeration'],
  },
  'multi-hillshade': {
    name: 'Light from several sides',
    tells: 'Several hillshades in one, so that a bank shows whichever way it runs.',
    numbers: ['altitude', 'exaggeration'],
  },
  slope: {
    name: 'Slope',
    tells: 'How steep the ground is: both sides of a bank show alike.',
    numbers: ['exaggeration', 'cutPercent'],
  },
  aspect: { name: 'Aspect', tells: 'Which way the ground falls: 0 to 360 degrees as grey.', numbers: [] },
  'local-relief': {
    name: 'Local relief',
    tells: 'Higher or lower than the ground around it: hills go, banks and hollows stay.',
    numbers: ['radiusM', 'cutPercent'],
    far: true,
  },
  'sky-view': {
    name: 'Sky-view',
    tells: 'How much of the sky is seen from each spot: ditches and hollows are dark.',
    numbers: lookAround,
    far: true,
  },
  'openness-up': {
    name: 'Openness upwards',
    tells: 'How open each spot is to above, slopes left out: ridges and mounds are bright.',
    numbers: lookAround,
    far: true,
  },
  'openness-down': {
    name: 'Openness downwards',
    tells: 'The same from below: hollows and ditches are bright.',
    numbers: lookAround,
    far: true,
  },
  blend: {
    name: 'Blend for faint banks',
    tells: 'Sky-view and local relief in one, to read banks that are hardly there.',
    numbers: lookAround,
    far: true,
  },
  'as-is': { name: 'As it is', tells: 'The picture as it was taken.', numbers: [] },
  equalised: {
    name: 'Even contrast',
    tells: 'Contrast made even from place to place, so that dull parts show what they hold.',
    numbers: ['radiusM'],
  },
  decorrelated: {
    name: 'Colours apart',
    tells: 'Colours that lie close are drawn apart: greens that differ little differ much.',
    numbers: ['cutPercent'],
  },
  'green-red': {
    name: 'Green to red',
    tells: 'Green against red: lush crop is bright, ripe or parched crop dark.',
    numbers: ['cutPercent'],
  },
  'visible-atmospheric': {
    name: 'Greenness, haze taken off',
    tells: 'Green against red, with blue to take off haze.',
    numbers: ['cutPercent'],
  },
  ndvi: {
    name: 'Near infrared to red (NDVI)',
    tells: 'How much living green: stress shows before the eye sees it.',
    numbers: ['cutPercent'],
  },
  band: {
    name: 'One band',
    tells: 'A single band of the picture, in grey.',
    numbers: ['number', 'cutPercent'],
  },
  component: {
    name: 'Principal component',
    tells: 'What the bands have in common (1), and what is left (2 and on), where faint marks hide.',
    numbers: ['number', 'cutPercent'],
  },
  'local-contrast': {
    name: 'Local contrast',
    tells: 'Lighter or darker than the ground around it, whatever the field as a whole is like.',
    numbers: ['radiusM', 'cutPercent'],
  },
}

interface NumberWords {
  readonly label: string
  readonly unit: string
  readonly least: number
  readonly most: number
  readonly step: number
}

/** What the server takes; the radius depends on the layer besides. */
export const numberWords: Readonly<Record<ViewNumber, NumberWords>> = {
  azimuth: { label: 'Light from', unit: '°', least: 0, most: 355, step: 5 },
  altitude: { label: 'Height of the light', unit: '°', least: 5, most: 85, step: 1 },
  exaggeration: { label: 'Heights exaggerated', unit: '×', least: 1, most: 20, step: 0.5 },
  radiusM: { label: 'Looks around', unit: 'm', least: 1, most: 400, step: 1 },
  directions: { label: 'Directions', unit: '', least: 4, most: 64, step: 2 },
  number: { label: 'Number', unit: '', least: 1, most: 100, step: 1 },
  cutPercent: { label: 'Cut at either end', unit: '%', least: 0, most: 25, step: 0.5 },
}

export const numberNames = Object.keys(numberWords) as readonly ViewNumber[]

/** The usual numbers of a terrain's views, as the server fills them in; an image's radius follows from its pixels. */
const usualNumbers: Readonly<Partial<Record<ViewNumber, number>>> = {
  azimuth: 315,
  altitude: 45,
  exaggeration: 1,
  directions: 16,
  number: 1,
  cutPercent: 2,
}
const usualRadiusM = 10

/** The number that a view goes by now; null where the server chooses. */
export function numberOf(layer: Layer, view: LayerView, name: ViewNumber): number | null {
  const given = view[name]
  if (given !== undefined) return given
  if (name === 'radiusM') return layer.kind === 'terrain' ? usualRadiusM : null
  return usualNumbers[name] ?? null
}

/** The least and the most that a number of this layer may be. */
export function limitsOf(layer: Layer, name: ViewNumber): readonly [least: number, most: number] {
  const { least, most } = numberWords[name]
  if (name === 'number') return [1, layer.bands]
  if (name !== 'radiusM') return [least, most]
  const digits = (value: number): number => Number(value.toPrecision(4))
  return [digits(layer.pixelM), digits(layer.pixelM * 400)]
}

/** A view with only the numbers that it goes by: what differs in nothing that is seen has one address. */
export function plainView(view: LayerView): LayerView {
  const numbers = viewWords[view.view].numbers.filter((name) => view[name] !== undefined)
  return Object.assign({ view: view.view }, ...numbers.map((name) => ({ [name]: view[name] }))) as LayerView
}

/** The view that a layer is seen by: the wanted one where it has it, else its usual one. */
export function viewFor(layer: Layer, wanted: LayerView | undefined): LayerView {
  if (wanted && layer.views.includes(wanted.view)) return wanted
  return { view: layer.views[0] ?? 'as-is' }
}
