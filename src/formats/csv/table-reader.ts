import type { Polygon } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { type FaultList, quoted } from '#formats/fault-list'
import { type Field, findFrom, isFindField, quantity, type Unit } from '#formats/fields'
import { attributesOf, keepAttribute, TrackBuilder, TrackNotes } from '#formats/track'
import { cellSeconds, type DayOrder, leavesZoneOpen } from './cell-time.ts'
import type { ColumnPlan } from './column-plan.ts'
import { type RowPosition, RowPositions } from './row-position.ts'
import { cellText } from './table-rows.ts'

export interface TableSettings {
  readonly comma: boolean
  readonly epsg: number | undefined
  readonly dayOrder: DayOrder
  /** Unit of depths where neither header nor cell names one. */
  readonly depthUnit: Unit
}

interface TrackInTable {
  readonly builder: TrackBuilder
  readonly name: string | null
  readonly line: number
  readonly epsg: number
  segment: string
  walked: boolean
}

interface AreaInTable {
  readonly epsg: number
  readonly name: string
  readonly line: number
  readonly parts: Map<string, Map<string, number[]>>
}

const inGeneral: readonly Field[] = ['time', 'date', 'clock', 'elevation']
const inTracks: ReadonlySet<Field> = new Set([...inGeneral, 'hdop', 'track', 'segment', 'walked'])
const inFinds: ReadonlySet<Field> = new Set([...inGeneral, 'name', 'note', 'accuracy'])

/** Turns the rows of one table into tracks, findspots or areas, as its plan says. */
export class TableReader {
  readonly findspots: RecordedFindspot[] = []
  readonly #plan: ColumnPlan
  readonly #settings: TableSettings
  readonly #faults: FaultList
  readonly #positions: RowPositions
  readonly #tracks = new Map<string, TrackInTable>()
  readonly #areas = new Map<string, AreaInTable>()
  /** Fields of the row being read that their columns did not serve for; their cells are kept as they stand. */
  readonly #left = new Set<Field>()
  #zoneless = false

  constructor(plan: ColumnPlan, settings: TableSettings, faults: FaultList) {
    this.#plan = plan
    this.#settings = settings
    this.#faults = faults
    this.#positions = new RowPositions(plan.at, settings.comma, settings.epsg)
  }

  row(cells: readonly string[], line: number): void {
    if (cells.every((cell) => cell.trim() === '')) return
    this.#left.clear()
    const position = this.#positions.read(cells)
    if ('code' in position) {
      this.#faults.add(line, position.code, `Row left out: ${position.text}.`)
    } else if (this.#plan.kind === 'track') this.#fix(cells, line, position)
    else if (this.#plan.kind === 'areas') this.#vertex(cells, line, position)
    else this.#findspot(cells, line, position)
  }

  finish(): { tracks: RecordedTrack[]; areas: RecordedArea[] } {
    const notes = new TrackNotes()
    const tracks = [...this.#tracks.values()].map(({ builder, name, walked, line, epsg }, i) => {
      const track = { ...builder.finish(name, walked, new Map()), epsg }
      notes.see(track, i, line)
      return track
    })
    notes.tell(this.#faults)
    if (this.#zoneless) this.#faults.note(null, 'assumed', 'Times name no zone; they were taken as UTC.')
    for (const note of this.#positions.notes()) this.#faults.note(null, 'assumed', note)
    const { assumedGrid } = this.#positions
    if (assumedGrid > 0) {
      const grid =
        this.#settings.epsg === undefined
          ? 'British National Grid (EPSG:27700)'
          : `EPSG:${this.#settings.epsg}`
      this.#faults.note(null, 'assumed', `Eastings and northings were taken to be metres of ${grid}.`)
    }
    return { tracks, areas: [...this.#areas.values()].flatMap((area) => this.#area(area)) }
  }

  #cell(cells: readonly string[], field: Field): string {
    return cellText(cells[this.#plan.at.get(field) ?? -1])
  }

  #bad(line: number, field: Field, text: string): void {
    this.#left.add(field)
    const header = this.#plan.columns[this.#plan.at.get(field) ?? -1]?.header ?? field
    const sentence = `In column ${quoted(header)}, ${quoted(text)} cannot be read; the row was kept without it.`
    this.#faults.add(line, 'bad-value', sentence)
  }

  /** A number of an optional column; NaN for nothing, and for what cannot be read, which is told. */
  #optional(cells: readonly string[], line: number, field: Field, read: (text: string) => number): number {
    const text = this.#cell(cells, field)
    if (text === '') return Number.NaN
    const value = read(text)
    if (Number.isNaN(value)) this.#bad(line, field, text)
    return value
  }

  /** A time that is complete in one cell stands for itself; else a date and a time of day make one. */
  #seconds(cells: readonly string[], line: number): number {
    const time = this.#cell(cells, 'time')
    const date = this.#cell(cells, 'date')
    const clock = this.#cell(cells, 'clock')
    if (time + date === '') return Number.NaN
    const alone = time === '' ? Number.NaN : cellSeconds(time, '', this.#settings.dayOrder)
    if (!Number.isNaN(alone)) {
      this.#left.add('date').add('clock')
      this.#zoneless ||= leavesZoneOpen(time, '')
      return alone
    }
    const [day, ofDay] = date === '' ? [time, clock] : [date, time === '' ? clock : time]
    const value = cellSeconds(day, ofDay, this.#settings.dayOrder)
    if (Number.isNaN(value)) {
      this.#bad(line, date === '' ? 'time' : 'date', `${day} ${ofDay}`.trim())
      this.#left.add('time').add('clock')
    } else this.#zoneless ||= leavesZoneOpen(day, ofDay)
    return value
  }

  #metres(cells: readonly string[], line: number, field: Field): number {
    const unit = this.#plan.columns[this.#plan.at.get(field) ?? -1]?.unit ?? 'm'
    return this.#optional(cells, line, field, (text) => quantity(text, 'length', unit, this.#settings.comma))
  }

  /** Cells that served for no field, by the name of their column. */
  #others(
    cells: readonly string[],
    used: (field: Field) => boolean,
    keep: (name: string, text: string) => void,
  ): void {
    const { columns, at } = this.#plan
    for (let i = 0; i < cells.length; i++) {
      const column = columns[i]
      const field = column?.field ?? null
      if (field !== null && at.get(field) === i && used(field) && !this.#left.has(field)) continue
      const text = cellText(cells[i])
      if (text !== '')
        keep(column === undefined || column.header === '' ? `column ${i + 1}` : column.header, text)
    }
  }

  #fix(cells: readonly string[], line: number, position: RowPosition): void {
    const id = this.#cell(cells, 'track')
    let track = this.#tracks.get(`${position.epsg} ${id}`)
    if (track === undefined) {
      const name = this.#plan.at.has('name') ? this.#cell(cells, 'name') || null : id || null
      const builder = new TrackBuilder()
      track = { builder, name, line, epsg: position.epsg, segment: '', walked: true }
      this.#tracks.set(`${position.epsg} ${id}`, track)
    }
    const segment = this.#cell(cells, 'segment')
    if (segment !== track.segment) track.builder.startSegment()
    track.segment = segment
    if (/^(no|false|0|n)$/i.test(this.#cell(cells, 'walked'))) track.walked = false
    const { builder } = track
    const named = this.#cell(cells, 'name') === (track.name ?? '')
    const used = (field: Field): boolean =>
      inTracks.has(field) || (field === 'name' && named) || position.from.includes(field)
    const hdop = this.#optional(cells, line, 'hdop', (text) => this.#positions.number(text))
    const elevation = this.#metres(cells, line, 'elevation')
    const time = this.#seconds(cells, line)
    this.#others(cells, used, (name, text) => builder.extra(name, text))
    builder.push(position.x, position.y, time, elevation, hdop)
  }

  #findspot(cells: readonly string[], line: number, { epsg, x, y, accuracyM, from }: RowPosition): void {
    const texts = new Map<Field, string>()
    for (const [field, i] of this.#plan.at) if (isFindField(field)) texts.set(field, cellText(cells[i]))
    const unit = (field: Field): Unit | null =>
      this.#plan.columns[this.#plan.at.get(field) ?? -1]?.unit ?? null
    const find = findFrom({
      texts,
      weightUnit: unit('weight') ?? 'g',
      depthUnit: unit('depth') ?? this.#settings.depthUnit,
      comma: this.#settings.comma,
      onBad: (field, text) => this.#bad(line, field, text),
    })
    const accuracy = this.#metres(cells, line, 'accuracy')
    const elevation = this.#metres(cells, line, 'elevation')
    const time = this.#seconds(cells, line)
    const attributes = new Map<string, string>()
    const used = (field: Field): boolean => inFinds.has(field) || isFindField(field) || from.includes(field)
    this.#others(cells, used, (name, text) => keepAttribute(attributes, name, text))
    this.findspots.push({
      epsg,
      name: this.#cell(cells, 'name') || null,
      x,
      y,
      accuracyM: Number.isNaN(accuracy) ? accuracyM : accuracy,
      elevation: Number.isNaN(elevation) ? null : elevation,
      time: Number.isNaN(time) ? null : time,
      note: this.#cell(cells, 'note') || null,
      find,
      attributes: attributesOf(attributes),
    })
  }

  #vertex(cells: readonly string[], line: number, { epsg, x, y }: RowPosition): void {
    const id = this.#cell(cells, 'area')
    const name = this.#plan.at.has('name') ? this.#cell(cells, 'name') : id
    const key = `${epsg} ${id}`
    const area = this.#areas.get(key) ?? { epsg, name, line, parts: new Map<string, Map<string, number[]>>() }
    this.#areas.set(key, area)
    const part = this.#cell(cells, 'part')
    const rings = area.parts.get(part) ?? new Map<string, number[]>()
    area.parts.set(part, rings)
    const ring = this.#cell(cells, 'ring')
    const xy = rings.get(ring) ?? []
    rings.set(ring, xy)
    xy.push(x, y)
  }

  /** The area whose corners the rows listed; rings are closed if they were not. Nothing, and a fault, where a ring has fewer than three corners. */
  #area({ epsg, name, line, parts }: AreaInTable): RecordedArea[] {
    const polygons: Polygon[] = [...parts.values()].map((rings) => ({
      rings: [...rings.values()].map((xy) => {
        const closed = xy.at(-2) === xy[0] && xy.at(-1) === xy[1]
        return Float64Array.from(closed ? xy : [...xy, xy[0]!, xy[1]!])
      }),
    }))
    if (polygons.some(({ rings }) => rings.some((ring) => ring.length < 8))) {
      const text = `Area ${quoted(name)} was left out: one of its rings has fewer than three corners.`
      this.#faults.add(line, 'area-invalid', text)
      return []
    }
    return [{ epsg, name: name === '' ? null : name, polygons, attributes: {} }]
  }
}
