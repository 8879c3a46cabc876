import { randomUUID } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statfsSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { SurveyError } from '#core/faults'

/** The most that the cache of one folder of surveys takes up, and never more than half of what is free besides. */
const usualCacheBytes = 10 * 2 ** 30
/** What a crashed program left unfinished is cleared away after this long. */
const unfinishedMs = 24 * 3600 * 1000
const unfinished = 'unfinished-'

/** A product's files and what is known of it, as the JSON file beside them says. */
interface Product {
  readonly files: readonly string[]
  readonly bytes: number
  readonly usedMs: number
}

/**
 * What is made ready of images and terrain models, beside the surveys in `.cache`: a folder for each source (by its hash), in it
 * products, each some files `NAME.…` and, written last, `NAME.json`. All of it can be made again, so it may be deleted at any
 * time. The product longest unused goes first when the limit is passed.
 */
export class LayerCache {
  readonly #beside: string
  readonly #limitBytes: number
  #folder: string | null = null

  constructor(surveyFolder: string, limitBytes = usualCacheBytes) {
    this.#beside = path.join(surveyFolder, '.cache')
    this.#limitBytes = limitBytes
  }

  /** Made when it is first asked for; in the folder of temporary files where the surveys' own cannot be written. */
  get folder(): string {
    this.#folder ??= canBeMade(this.#beside) ? this.#beside : path.join(tmpdir(), 'lynchet-cache')
    return this.#folder
  }

  folderOf(source: string): string {
    return path.join(this.folder, source)
  }

  /** What is known of a product, and marks it as used; null where it is not there whole. */
  find<Facts>(source: string, name: string): Facts | null {
    const json = path.join(this.folderOf(source), `${name}.json`)
    try {
      const { files, facts } = JSON.parse(readFileSync(json, 'utf8')) as { files: string[]; facts: Facts }
      if (!files.every((file) => existsSync(path.join(this.folderOf(source), file)))) return null
      const now = new Date()
      utimesSync(json, now, now)
      return facts
    } catch {
      return null
    }
  }

  /**
   * Runs `make` with an empty folder and keeps the files `NAME.…` that it leaves there as a product; the rest is removed, and all of
   * it where `make` fails. Faults: those of `make`; SurveyError 'cannot-write', 'disk-full'.
   */
  async make<Facts>(source: string, name: string, make: (folder: string) => Promise<Facts>): Promise<Facts> {
    return this.working(async (folder) => {
      const facts = await make(folder)
      this.keep(source, name, folder, facts)
      return facts
    })
  }

  /** Runs `work` with an empty folder on the disk of the cache, which is gone afterwards. */
  async working<Result>(work: (folder: string) => Promise<Result>): Promise<Result> {
    const folder = path.join(this.folder, `${unfinished}${randomUUID()}`)
    written(() => mkdirSync(folder, { recursive: true }))
    try {
      return await work(folder)
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  }

  /** Takes the files `NAME.…` of a folder on the same disk over as a product. Two programs may do so at once: the later wins. */
  keep<Facts>(source: string, name: string, folder: string, facts: Facts): void {
    const target = this.folderOf(source)
    const files = readdirSync(folder).filter((file) => file.startsWith(`${name}.`))
    written(() => {
      mkdirSync(target, { recursive: true })
      for (const file of files) renameSync(path.join(folder, file), path.join(target, file))
      const json = path.join(folder, `${name}.json`)
      writeFileSync(json, JSON.stringify({ files, facts }))
      renameSync(json, path.join(target, `${name}.json`))
    })
    this.#shrink(path.join(target, `${name}.json`))
  }

  forget(source: string, name: string): void {
    rmSync(path.join(this.folderOf(source), `${name}.json`), { force: true })
  }

  #shrink(keep: string): void {
    const products = this.#products()
    let bytes = products.reduce((sum, product) => sum + product.bytes, 0)
    const limit = Math.min(this.#limitBytes, (bytes + freeBytes(this.folder)) / 2)
    for (const { files, bytes: size } of products.toSorted((a, b) => a.usedMs - b.usedMs)) {
      if (bytes <= limit) return
      if (files.includes(keep)) continue
      // The JSON file first: without it there is no product.
      for (const file of files) rmSync(file, { force: true })
      bytes -= size
    }
  }

  #products(): Product[] {
    const found: Product[] = []
    for (const entry of entriesOf(this.folder)) {
      const folder = path.join(this.folder, entry)
      if (entry.startsWith(unfinished)) clearIfOld(folder)
      else found.push(...productsIn(folder))
    }
    return found
  }
}

function canBeMade(folder: string): boolean {
  try {
    mkdirSync(folder, { recursive: true })
    writeFileSync(path.join(folder, 'CACHEDIR.TAG'), cacheTag)
    return true
  } catch {
    return false
  }
}

/** By this programs that make backups know a cache (bford.info/cachedir). */
const cacheTag =
  'Signature: 8a477f597d28d172789f06886806bc55\n# Made by Lynchet from your images and terrain models. It may be deleted at any time.\n'

function entriesOf(folder: string): string[] {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}

/** Files without a JSON file beside them are what a broken-off clearing left: a product used before all others. */
function productsIn(folder: string): Product[] {
  const byName = new Map<string, string[]>()
  for (const file of entriesOf(folder)) {
    const name = file.slice(0, file.indexOf('.'))
    const files = byName.get(name) ?? []
    if (file.endsWith('.json')) files.unshift(path.join(folder, file))
    else files.push(path.join(folder, file))
    byName.set(name, files)
  }
  return [...byName.values()].map((files) => {
    const stats = files.map((file) => statSync(file, { throwIfNoEntry: false }))
    const whole = files[0]?.endsWith('.json') ?? false
    return {
      files,
      bytes: stats.reduce((sum, stat) => sum + (stat?.size ?? 0), 0),
      usedMs: whole ? (stats[0]?.mtimeMs ?? 0) : 0,
    }
  })
}

function clearIfOld(folder: string): void {
  const stat = statSync(folder, { throwIfNoEntry: false })
  if (stat && Date.now() - stat.mtimeMs > unfinishedMs) rmSync(folder, { recursive: true, force: true })
}

function freeBytes(folder: string): number {
  try {
    const { bavail, bsize } = statfsSync(folder)
    return bavail * bsize
  } catch {
    return Number.POSITIVE_INFINITY
  }
}

function written(work: () => void): void {
  try {
    work()
  } catch (cause) {
    const { code, path: place = '' } = cause as NodeJS.ErrnoException
    if (code === 'ENOSPC') {
      const sentence = `There is no room left on the disk for ${place}; make room and try again.`
      throw new SurveyError('disk-full', sentence, { cause })
    }
    throw new SurveyError('cannot-write', `The cache of pictures cannot be written (${place}).`, { cause })
  }
}
