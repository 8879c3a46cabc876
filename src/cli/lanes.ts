import type { Command } from 'commander'
import { type LaneChances, type LaneLight, type LanePattern, lanePatterns } from '#contract'
import { usualPace } from '#core/lanes'
import { type LanesOfFiles, laneChances, laneFormat, lanesOfFiles } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, UsageError, wholeFrom, zeroOrMore } from './terminal.ts'

interface LanesOptions {
  spacing: number
  bearing?: number
  along?: string
  plough?: string
  contour?: string
  pattern: LanePattern
  walkers: number
  from?: [number, number]
  radius?: number
  speed: number
  rest: number
  swath?: number
  scatter?: number
  coil?: number
  rate?: number
  day?: string
  out?: string
  nameLength: number
  ascii?: true
  json?: true
}

const kilometres = (metres: number): string => `${(metres / 1000).toFixed(2)} km`
const inHours = (hours: number): string => {
  const minutes = Math.round(60 * hours)
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`
}

function inWords({ figures }: LanesOfFiles, chances: LaneChances | null): string {
  const { lanes, lengthM, bearing, turns, betweenM, hours, restHours, walkers, light, notes } = figures
  return [
    `Lanes            ${lanes}, ${kilometres(lengthM)} together`,
    ...(bearing === null ? [] : [`Bearing          ${bearing.toFixed(1)}° from grid north`]),
    `Turns            ${turns}, ${kilometres(betweenM)} walked between lanes`,
    `Time             ${inHours(hours)}, of which ${inHours(restHours)} rest`,
    ...(walkers.length === 1
      ? []
      : walkers.map(
          (share, w) =>
            `Walker ${w + 1}         ${share.lanes} lanes, ${kilometres(share.lengthM)}, ${inHours(share.hours)}`,
        )),
    ...(light === null ? [] : lightInWords(light)),
    ...(chances === null ? [] : chancesInWords(chances)),
    ...notes.map((note) => `  ${note}`),
    '',
  ].join('\n')
}

function lightInWords({ day, sun, civil, hours, fits }: LaneLight): string[] {
  const clock = (time: string): string => time.slice(11, 16)
  const span = ({ rise, set, all }: LaneLight['sun'], what: string, up: string, down: string): string =>
    rise !== null && set !== null ? `${what} ${clock(rise)} to ${clock(set)}` : all === 'above' ? up : down
  return [
    `Light on ${day}  ${span(sun, 'sun', 'sun up all day', 'sun down all day')}, ${span(civil, 'light enough', 'light all day', 'dark all day')} (UTC)`,
    `  ${fits ? 'The lanes fit' : 'The lanes do not fit'} into the ${inHours(hours)} between civil dawn and dusk.`,
  ]
}

function chancesInWords({ scatterCrossed, sweptShare, objectSensed, sweep }: LaneChances): string[] {
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`
  return [
    `Swept            ${percent(sweptShare)} of the ground`,
    ...(scatterCrossed === null
      ? []
      : [`Scatter          crossed with a chance of ${percent(scatterCrossed)}`]),
    ...(objectSensed === null ? [] : [`Single object    sensed with a chance of ${percent(objectSensed)}`]),
    ...(sweep === null ? [] : [`  ${sweep}`]),
  ]
}

function degrees(word: string): number {
  const value = Number(word)
  if (word.trim() === '' || !Number.isFinite(value))
    throw new UsageError(`--bearing takes degrees from grid north, not "${word}".`)
  return value
}

function patternOf(word: string): LanePattern {
  const pattern = lanePatterns.find((known) => known === word)
  if (pattern === undefined)
    throw new UsageError(`--pattern takes ${lanePatterns.join(', ')}, not "${word}".`)
  return pattern
}

function place(word: string): [number, number] {
  const values = word.split(',').map((part) => (part.trim() === '' ? Number.NaN : Number(part)))
  if (values.length !== 2 || !values.every(Number.isFinite))
    throw new UsageError(`--from takes EASTING,NORTHING in the grid of the place, not "${word}".`)
  return [values[0]!, values[1]!]
}

function chancesOf({ spacing, speed, swath, scatter, coil, rate }: LanesOptions): LaneChances | null {
  if ((coil === undefined) !== (rate === undefined)) throw new UsageError('--coil and --rate go together.')
  if (swath === undefined && (scatter ?? coil) !== undefined)
    throw new UsageError('--scatter, --coil and --rate need --swath.')
  if (swath === undefined) return null
  return laneChances({
    spacingM: spacing,
    swathM: swath,
    speedMs: speed,
    ...(scatter === undefined ? {} : { scatterM: scatter }),
    ...(coil === undefined || rate === undefined ? {} : { coilM: coil, rateHz: rate }),
  })
}

/** Where the lanes take their bearing from: one thing at most. */
function directionOf({ bearing, along, plough, contour, pattern }: LanesOptions) {
  const given = [bearing, along, plough, contour].filter((each) => each !== undefined).length
  if (given > 1) throw new UsageError('Give one of --bearing, --along, --plough and --contour.')
  if (pattern === 'spiral' && given > 0)
    throw new UsageError('A spiral has no bearing: leave --bearing, --along, --plough and --contour out.')
  return { bearing, along, plough, contour }
}

export function lanesCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('lanes')
    .description(
      'lanes to walk over an area, in their order, with their length and time. Metres and degrees.',
    )
    .argument('<area>', 'file with the search area: GeoJSON, KML, GPX, CSV, shapefile')
    .requiredOption('--spacing <m>', 'between lanes: the width swept less the overlap', positive('--spacing'))
    .option(
      '--bearing <deg>',
      'along which they lie, from grid north (else that of the fewest turns)',
      degrees,
    )
    .option('--along <file>', 'file with a line whose bearing they take: a plough line or a contour')
    .option('--plough <file>', 'picture or terrain model whose plough lines they follow')
    .option('--contour <file>', 'terrain model whose contour they follow')
    .option('--pattern <name>', `${lanePatterns.join(', ')}`, patternOf, 'parallel')
    .option('--walkers <n>', 'share them evenly among so many', wholeFrom('--walkers', 1, 1000), 1)
    .option('--from <e,n>', 'where the walk starts, or the middle of a spiral', place)
    .option('--radius <m>', 'how far out a spiral goes', positive('--radius'))
    .option('--speed <m/s>', 'walking speed along lanes', positive('--speed'), usualPace.sweepMs)
    .option(
      '--rest <min>',
      `rest after each ${usualPace.workMin} minutes`,
      zeroOrMore('--rest'),
      usualPace.restMin,
    )
    .option('--swath <m>', 'full width of the arc swept: tells the chances', positive('--swath'))
    .option('--scatter <m>', 'diameter of a scatter looked for; with --swath', zeroOrMore('--scatter'))
    .option('--coil <m>', 'length of ground the coil senses along the walk; with --rate', positive('--coil'))
    .option('--rate <per second>', 'sweeps a second, one crossing each; with --coil', positive('--rate'))
    .option('--day <date>', 'tell the light of that day (2026-11-25)')
    .option('--out <file>', 'write them as .gpx, .kml, .geojson or .csv')
    .option('--name-length <n>', 'most characters of a name', wholeFrom('--name-length', 1, 255), 30)
    .option('--ascii', 'names without accents')
    .option('--json', 'print the figures as JSON')
    .action(async (area: string, options: LanesOptions) => {
      const { spacing, pattern, walkers, from, radius, speed, rest, day, out } = options
      const direction = directionOf(options)
      const chances = chancesOf(options)
      if (out !== undefined && laneFormat(out) === null)
        throw new UsageError(`--out takes a name ending in .gpx, .kml, .geojson or .csv, not "${out}".`)
      const done = await lanesOfFiles({
        area,
        spacingM: spacing,
        pattern,
        walkers,
        from: from ?? null,
        radiusM: radius ?? null,
        pace: { ...usualPace, sweepMs: speed, restMin: rest },
        names: { length: options.nameLength, ascii: options.ascii ?? false },
        ...direction,
        ...(day === undefined ? {} : { day }),
        ...(out === undefined ? {} : { out }),
      })
      for (const { file, line, text } of done.faults)
        terminal.err(`${file}${line === null ? '' : ` line ${line}`}: ${text}\n`)
      terminal.out(
        options.json ? `${JSON.stringify({ ...done.figures, chances })}\n` : inWords(done, chances),
      )
    })
}
