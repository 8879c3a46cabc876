import type { ExtraSeries, RecordedTrack } from '#core/record'
import { attributesOf } from './attributes.ts'

/** Distinct texts remembered, so that the million fixes that say "3d" share one string. */
const remembered = 4096

/**
 * Gathers the fixes of one track after another into typed arrays that grow by doubling. One builder serves a whole file:
 * `finish` copies what it has and starts anew. Memory: 48 bytes a fix of the longest track while it grows.
 */
export class TrackBuilder {
  #capacity = 0
  #xy = new Float64Array(0)
  #time = new Float64Array(0)
  #elevation = new Float64Array(0)
  #hdop = new Float64Array(0)
  #starts: number[] = []
  #startPending = true
  #extras = new Map<string, { at: number[]; text: string[] }>()
  readonly #texts = new Map<string, string>()
  #timed = 0
  #raised = 0
  #diluted = 0
  count = 0

  /** The next fix begins a segment. A segment without a fix leaves no trace. */
  startSegment(): void {
    this.#startPending = true
  }

  /** Adds a fix. NaN stands for a time (s), elevation (m) or dilution that is not known. */
  push(x: number, y: number, time: number, elevation: number, hdop: number): void {
    const n = this.count
    if (n === this.#capacity) this.#grow()
    if (this.#startPending) {
      this.#starts.push(n)
      this.#startPending = false
    }
    this.#xy[2 * n] = x
    this.#xy[2 * n + 1] = y
    this.#time[n] = time
    this.#elevation[n] = elevation
    this.#hdop[n] = hdop
    if (!Number.isNaN(time)) this.#timed++
    if (!Number.isNaN(elevation)) this.#raised++
    if (!Number.isNaN(hdop)) this.#diluted++
    this.count = n + 1
  }

  /** Keeps a text for the fix that the next `push` adds. */
  extra(name: string, text: string): void {
    let series = this.#extras.get(name)
    if (series === undefined) {
      series = { at: [], text: [] }
      this.#extras.set(name, series)
    }
    series.at.push(this.count)
    series.text.push(this.#shared(text))
  }

  /** The track so far; the builder is empty again. Extras of a fix that was never pushed are dropped. */
  finish(name: string | null, walked: boolean, attributes: Map<string, string>): RecordedTrack {
    const n = this.count
    const track: RecordedTrack = {
      epsg: 4326,
      name,
      walked,
      xy: this.#xy.slice(0, 2 * n),
      segmentStart: Uint32Array.from(this.#starts),
      time: this.#timed > 0 ? this.#time.slice(0, n) : null,
      elevation: this.#raised > 0 ? this.#elevation.slice(0, n) : null,
      hdop: this.#diluted > 0 ? this.#hdop.slice(0, n) : null,
      extras: this.#finishedExtras(n),
      attributes: attributesOf(attributes),
    }
    this.count = 0
    this.#timed = 0
    this.#raised = 0
    this.#diluted = 0
    this.#starts = []
    this.#startPending = true
    this.#extras = new Map()
    return track
  }

  #finishedExtras(n: number): ExtraSeries[] {
    const extras: ExtraSeries[] = []
    for (const [name, { at, text }] of this.#extras) {
      while (at.length > 0 && at[at.length - 1]! >= n) {
        at.pop()
        text.pop()
      }
      if (at.length > 0) extras.push({ name, at, text })
    }
    return extras
  }

  #shared(text: string): string {
    const known = this.#texts.get(text)
    if (known !== undefined) return known
    if (this.#texts.size < remembered) this.#texts.set(text, text)
    return text
  }

  #grow(): void {
    this.#capacity = Math.max(1024, this.#capacity * 2)
    const grown = (old: Float64Array<ArrayBuffer>, length: number): Float64Array<ArrayBuffer> => {
      const wide = new Float64Array(length)
      wide.set(old)
      return wide
    }
    this.#xy = grown(this.#xy, 2 * this.#capacity)
    this.#time = grown(this.#time, this.#capacity)
    this.#elevation = grown(this.#elevation, this.#capacity)
    this.#hdop = grown(this.#hdop, this.#capacity)
  }
}
