import { readFileSync, renameSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { type BaseMaps, baseMapsShape, originOf } from '#contract'
import { SurveyError } from '#core/faults'

/** The maps whose addresses the user gave, whatever survey is open. None at first, and none shown. */
export interface BaseMapService {
  /** Faults: 'broken-file' where the list cannot be understood. */
  list(): BaseMaps
  /** Puts another list in the place of the old one. Faults: 'cannot-write'. */
  keep(maps: BaseMaps): BaseMaps
  /** The one foreign server that the page may ask: that of the map now shown. Null while none is. */
  shownOrigin(): string | null
}

const none: BaseMaps = { maps: [], shown: null }
const fileName = 'base-maps.json'

/** Kept in one small file of the folder of surveys, readable to this user only, for an address may hold a key. */
export class KeptBaseMaps implements BaseMapService {
  readonly #file: string
  #kept: BaseMaps | null

  constructor(folder: string) {
    this.#file = path.join(folder, fileName)
    this.#kept = readKept(this.#file)
  }

  list(): BaseMaps {
    if (this.#kept) return this.#kept
    throw new SurveyError(
      'broken-file',
      `${this.#file} is not a list of base maps that can be understood, so no base map is shown: mend it, or take it away, and start again.`,
    )
  }

  keep(maps: BaseMaps): BaseMaps {
    // One that could not be understood is not written over.
    this.list()
    const draft = `${this.#file}.new`
    try {
      writeFileSync(draft, `${JSON.stringify(maps, null, 2)}\n`, { mode: 0o600 })
      renameSync(draft, this.#file)
    } catch (cause) {
      const sentence = `${this.#file} could not be written, so the base maps are as before.`
      throw new SurveyError('cannot-write', sentence, { cause })
    }
    this.#kept = maps
    return maps
  }

  shownOrigin(): string | null {
    const { maps, shown } = this.#kept ?? none
    const map = shown === null ? undefined : maps[shown]
    return map ? originOf(map.address) : null
  }
}

/** What the file says; nothing where there is none yet; null where it cannot be understood. */
function readKept(file: string): BaseMaps | null {
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ENOENT' ? none : null
  }
  try {
    return baseMapsShape.parse(JSON.parse(text))
  } catch {
    return null
  }
}
