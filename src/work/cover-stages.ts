import { deflateSync } from 'node:zlib'
import type { Progress } from '#contract'
import {
  type CoverChance,
  type CoverOptions,
  type CoverPlan,
  type CoverSpread,
  type CoverTally,
  chanceGaps,
  chanceOf,
  chooseCell,
  combineChances,
  coverFigures,
  type Gap,
  gapPolygons,
  gridOf,
  joinTallies,
  prepareChance,
  prepareCover,
  prepareSpread,
  spreadOf,
} from '#core/cover'
import { SurveyError } from '#core/faults'
import { areaBounds, type Polygon } from '#core/geometry'
import type { ChanceTileInput } from './chance-tile-worker.ts'
import type { ChanceOutcome, CoverInput, CoverOutcome, VisitWish } from './cover-input.ts'
import { inWorker } from './in-worker.ts'
import { Stages, stageKey } from './kept-stages.ts'
import { planarTrack, polygonOnWgs84, type ReadyTrack, type ReadyWish, readyTrack } from './planar-tracks.ts'
import { chanceSharedTiles, coverSharedTiles, sharedSimulations } from './shared-tiles.ts'
import type { SpreadInput } from './spread-worker.ts'
import type { TileInput } from './tile-worker.ts'

/** Where in the whole work each part ends, about: where no chances are asked for, the other parts are all there is. */
interface Ends {
  readonly tracks: number
  readonly passes: number
  readonly gaps: number
  readonly chances: number
  readonly chanceGaps: number
  readonly spread: number
}

function endsOf({ chance, visits = [], spread = null }: CoverInput): Ends {
  const some = chance !== null || visits.length > 0
  const chances = some ? (spread === null ? 0.9 : 0.6) : 0.95
  const before = some ? 0.3 : 0.95
  return {
    tracks: before / 4,
    passes: before * 0.7,
    gaps: before,
    chances,
    chanceGaps: chances + 0.02,
    spread: 0.97,
  }
}

/** The surfaces of all visits together hold no more cells than this; 4 bytes each. */
const mostCellsOfVisits = 60_000_000

/** All that one sum carries from part to part. */
interface Sum {
  readonly input: CoverInput
  readonly stages: Stages
  readonly progress: Progress
  readonly options: CoverOptions
  readonly ends: Ends
  readonly tracks: readonly ReadyTrack[]
  /** Key of tracks and area together. */
  readonly key: string
}

/**
 * Works a cover out in stages, each kept under the key of all that it was made from: a changed setting does again only what it
 * touches. Faults: those of core/cover and core/track.
 */
export async function coverInStages(input: CoverInput, progress: Progress): Promise<CoverOutcome> {
  const started = performance.now()
  const { area, minGapM2, widthM, maxJumpM, maxJumpS } = input
  const stages = new Stages(input.kept ?? null)
  const { cellM } = chooseCell(areaBounds(area), input.cellM)
  progress(0, 'placing the fixes')
  const { tracks, key } = await readyTracks(input, stages)
  const options = { widthM, cellM, maxJumpM, maxJumpS }
  const ends = endsOf(input)
  const sum: Sum = { input, stages, progress, options, ends, tracks, key }
  const { plan, passes, tally } = await passesOf(sum)
  const grid = gridOf(plan, passes, tally)
  const passesKey = stageKey(key, options)
  const gaps = await stages.take('gaps', stageKey(passesKey, minGapM2), () => {
    const found = gapPolygons(grid, {
      minGapM2,
      progress: part(progress, ends.passes, ends.gaps, 'drawing the gaps'),
    })
    return withWgs84(found, area.epsg)
  })
  const chance = await chancesOf(sum)
  const spread = await spreadOfWalks(sum)
  progress(ends.spread, 'packing the cover')
  const deflated = await stages.take('deflated', passesKey, () => deflateSync(passes, { level: 1 }))
  const accounts = tracks.flatMap(({ account }) => (account === null ? [] : [account]))
  const figures = coverFigures({ plan, grid, gaps: gaps.gaps, minGapM2, ...(chance ? { chance } : {}) })
  const { epsg, west, north, columns, rows } = grid
  return {
    frame: { epsg, west, north, cellM, columns, rows },
    figures: {
      ...figures,
      ...sharesIn(chance),
      tooFastM: tooFast(accounts),
      spread: spread && withoutNotes(spread),
      notes: [...figures.notes, ...(spread?.notes ?? []), ...accountNotes(tracks)],
      seconds: (performance.now() - started) / 1000,
    },
    gaps: gaps.gaps,
    gapsOnWgs84: gaps.onWgs84,
    passes,
    deflated,
    chance,
    spread,
    accounts,
    kept: stages.kept,
    done: stages.done,
  }
}

/** The tracks ready for all that follows, and the key of them and the area together. */
async function readyTracks(input: CoverInput, stages: Stages): Promise<Pick<Sum, 'tracks' | 'key'>> {
  const { area, clean = null, cutDrives = false, accounts = false } = input
  const wishes = input.tracks.map((_, t): ReadyWish => {
    const visit = input.visits?.find(({ tracks }) => tracks.includes(t))
    const chance = visit?.chance ?? input.chance
    // Where the receiver tells no accuracy, the error of its visit goes before that of the cleaning.
    const settings = clean && { ...clean, ...(chance ? { errorM: chance.errorM } : {}) }
    return { clean: settings, cutDrives: cutDrives || (visit?.cutDrives ?? false), accounts, chance }
  })
  const recorded = stageKey(input.tracks, area.epsg)
  const tracks = await stages.take('tracks', stageKey(recorded, wishes), () =>
    input.tracks.map((track, t) => readyTrack(planarTrack(track, area.epsg), wishes[t]!)),
  )
  if (
    clean !== null &&
    input.tracks.some(({ xy }) => xy.length > 0) &&
    tracks.every(({ track }) => track.xy.length === 0)
  )
    throw new SurveyError(
      'no-overlap',
      'No fix of the tracks has a place and a time that can be used near the search area. Choose other files, or leave out the cleaning.',
    )
  return { tracks, key: stageKey(recorded, clean === null ? cutDrives : wishes, area) }
}

function part(progress: Progress, from: number, to: number, label: string): (done: number) => void {
  return (done) => progress(from + done * (to - from), label)
}

const counter = (): Int32Array => new Int32Array(new SharedArrayBuffer(4))

/** Runs a script in as many further threads as there is work for. */
function elsewhere<Result>(script: string, input: unknown, threads: number, work: number): Promise<Result>[] {
  const url = new URL(script, import.meta.url)
  return Array.from({ length: Math.min(threads, work) - 1 }, () => inWorker<Result>(url, input, {}))
}

interface Passes {
  readonly plan: CoverPlan
  readonly passes: Uint8Array
  readonly tally: CoverTally
}

function passesOf({ input, stages, progress, options, ends, tracks, key }: Sum): Promise<Passes> {
  return stages.take('passes', stageKey(key, options), async () => {
    const plan = prepareCover(
      tracks.map(({ track }) => track),
      input.area,
      options,
    )
    const passes = new Uint8Array(new SharedArrayBuffer(plan.rows * plan.columns))
    const shared: TileInput = { plan, passes, next: counter() }
    const others = elsewhere<CoverTally>('./tile-worker.ts', shared, input.threads, plan.tiles)
    const tell = part(progress, ends.tracks, ends.passes, 'working out the cover')
    const own = coverSharedTiles(plan, passes, shared.next, tell)
    return { plan, passes, tally: (await Promise.all(others)).reduce(joinTallies, own) }
  })
}

function withWgs84(
  gaps: readonly Gap[],
  epsg: number,
): { gaps: readonly Gap[]; onWgs84: readonly Polygon[] } {
  return { gaps, onWgs84: gaps.map(({ polygon }) => polygonOnWgs84(polygon, epsg)) }
}

/** Chances visit by visit, combined; a visit that nothing changed for is not worked out again. */
async function chancesOf(sum: Sum): Promise<(ChanceOutcome & { notes: readonly string[] }) | null> {
  const { input, stages, progress, ends } = sum
  const whole = input.chance && {
    tracks: input.tracks.map((_, t) => t),
    widthM: input.widthM,
    chance: input.chance,
  }
  const visits: readonly VisitWish[] = input.visits ?? (whole ? [whole] : [])
  if (visits.length === 0) return null
  const found: CoverChance[] = []
  for (const visit of visits) {
    const step = (ends.chances - ends.gaps) / visits.length
    const from = ends.gaps + found.length * step
    found.push(await chanceOfVisit(sum, visit, part(progress, from, from + step, 'working out chances')))
  }
  const [first] = found
  const combined = found.length === 1 ? first! : combineChances(found)
  const { epsg, west, north, cellM, columns, rows, chance } = combined
  const level = input.gapChance ?? null
  const gaps =
    level === null
      ? null
      : await stages.take(
          'chance-gaps',
          stageKey(sum.key, sum.options, visits, level, input.minGapM2),
          () => {
            const tell = part(progress, ends.chances, ends.chanceGaps, 'drawing the gaps')
            return withWgs84(chanceGaps(combined, level, { minGapM2: input.minGapM2, progress: tell }), epsg)
          },
        )
  return {
    frame: { epsg, west, north, cellM, columns, rows },
    chance,
    expectedShare: combined.expectedShare,
    share50: combined.share50,
    share80: combined.share80,
    share95: combined.share95,
    byVisit: found.map(({ expectedShare, share50, share80, share95 }) => ({
      expectedShare,
      share50,
      share80,
      share95,
    })),
    gaps: gaps?.gaps ?? null,
    gapsOnWgs84: gaps?.onWgs84 ?? null,
    notes: [...new Set(found.flatMap(({ notes }) => notes))],
  }
}

function chanceOfVisit(sum: Sum, visit: VisitWish, tell: (done: number) => void): Promise<CoverChance> {
  const { input, stages, options, tracks } = sum
  const own = visit.tracks.map((t) => tracks[t]!)
  const walked = own.map(({ track, errorM }) => [track.xy, track.time, track.segmentStart, errorM])
  const mostCells = Math.floor(mostCellsOfVisits / Math.max(1, input.visits?.length ?? 1))
  const key = stageKey(walked, input.area, { ...options, widthM: visit.widthM, mostCells }, visit.chance)
  return stages.take(`chance ${key}`, key, async () => {
    const prepared = prepareChance(
      own.map(({ track }) => track),
      input.area,
      {
        ...options,
        ...visit.chance,
        widthM: visit.widthM,
        errorOfFix: own.map(({ errorM }) => errorM),
        mostCells,
      },
    )
    const { rows, columns, tiles } = prepared.nodes.plan
    const worked = new Float32Array(new SharedArrayBuffer(4 * rows * columns))
    const shared: ChanceTileInput = { prepared, worked, next: counter() }
    const others = elsewhere<null>('./chance-tile-worker.ts', shared, input.threads, tiles)
    chanceSharedTiles(prepared, worked, shared.next, tell)
    await Promise.all(others)
    return chanceOf(prepared, worked)
  })
}

function spreadOfWalks({
  input,
  stages,
  progress,
  options,
  ends,
  tracks,
  key,
}: Sum): Promise<CoverSpread | null> {
  const { spread = null, chance } = input
  const errorOfTrack = tracks.map((ready, t) => {
    const visit = input.visits?.find((one) => one.tracks.includes(t))
    return medianOf(ready.errorM) ?? visit?.chance.errorM ?? chance?.errorM ?? 0
  })
  if (spread === null) return Promise.resolve(null)
  return stages.take('spread', stageKey(key, options, errorOfTrack, spread), async () => {
    const plan = prepareSpread(
      tracks.map(({ track }) => track),
      input.area,
      { ...options, ...spread, errorM: 0, errorOfTrack },
    )
    const shares = new Float64Array(new SharedArrayBuffer(8 * spread.simulations))
    const shared: SpreadInput = { plan, shares, next: counter() }
    const others = elsewhere<null>('./spread-worker.ts', shared, input.threads, spread.simulations)
    sharedSimulations(
      plan,
      shares,
      shared.next,
      part(progress, ends.chanceGaps, ends.spread, 'simulating walks'),
    )
    await Promise.all(others)
    return spreadOf(shares, plan)
  })
}

/** The middle one of the errors of fixes; null where a track was not cleaned, so that each has that of its visit. */
function medianOf(errors: Float64Array | null): number | null {
  return errors === null || errors.length === 0 ? null : errors.toSorted()[errors.length >> 1]!
}

function sharesIn(chance: ChanceOutcome | null): Record<'share50' | 'share80' | 'share95', number | null> {
  const { share50 = null, share80 = null, share95 = null } = chance ?? {}
  return { share50, share80, share95 }
}

function tooFast(accounts: CoverOutcome['accounts']): number | null {
  const told = accounts.flatMap(({ fast }) => (fast === null ? [] : [fast]))
  return told.length === 0 ? null : told.flat().reduce((sum, { metres }) => sum + metres, 0)
}

function withoutNotes({ notes: _, ...figures }: CoverSpread): Omit<CoverSpread, 'notes'> {
  return figures
}

/** What cleaning left out, where the tracks were cleaned or cut; else only what looks driven, which a person may want cut. */
function accountNotes(tracks: readonly ReadyTrack[]): string[] {
  return [
    ...new Set(
      tracks.flatMap(({ account, errorM }) => {
        if (account === null) return []
        return errorM === null ? account.notes.filter((note) => note.includes('driven')) : account.notes
      }),
    ),
  ]
}
