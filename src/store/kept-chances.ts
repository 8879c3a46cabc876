import { bytesAt, numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { ChancesFile, ChancesToSave, StoredChances } from './chances-file.ts'
import type { Connection } from './connection.ts'

const mostSurfaceBytes = 40 * 2 ** 20

interface Ways {
  readonly read: <Result>(work: (on: Connection) => Result) => Result
  readonly write: <Result>(work: (on: Connection) => Result) => Result
  readonly now: () => string
}

/** See ChancesFile. */
export class KeptChances implements ChancesFile {
  readonly #ways: Ways

  constructor(ways: Ways) {
    this.#ways = ways
  }

  save(chances: ChancesToSave): void {
    this.#ways.write((on) => {
      const { id, choice, madeOf, surface } = chances
      const json = [chances.wish, chances.figures, chances.gaps].map((value) => JSON.stringify(value))
      on.run('DELETE FROM chances WHERE choice = ?', choice)
      on.run(
        'INSERT INTO chances (uuid, choice, made_at, made_of, wish, figures, gaps, surface) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
        ...[id, choice, this.#ways.now(), madeOf, ...json, surface],
      )
      on.run(
        `UPDATE chances SET surface = NULL WHERE id IN (
           SELECT id FROM (SELECT id, sum(length(surface)) OVER (ORDER BY id DESC) AS bytes FROM chances WHERE surface IS NOT NULL)
           WHERE bytes > ?)`,
        mostSurfaceBytes,
      )
    })
  }

  list(): StoredChances[] {
    return this.#ways.read((on) =>
      on
        .all(
          'SELECT uuid, choice, made_at, made_of, wish, figures, surface IS NOT NULL AS whole FROM chances ORDER BY id',
        )
        .map(
          (row): StoredChances => ({
            id: textAt(row, 'uuid') ?? '',
            choice: textAt(row, 'choice') ?? '',
            madeAt: secondsAt(row, 'made_at') ?? 0,
            madeOf: textAt(row, 'made_of') ?? '',
            wish: parsedJson(textAt(row, 'wish') ?? 'null'),
            hasSurface: numberAt(row, 'whole') === 1,
            figures: parsedJson(textAt(row, 'figures') ?? 'null'),
          }),
        ),
    )
  }

  gaps(id: string): unknown {
    const row = this.#ways.read((on) => on.one('SELECT gaps FROM chances WHERE uuid = ?', id))
    return row === null ? null : parsedJson(textAt(row, 'gaps') ?? 'null')
  }

  surface(id: string): Uint8Array | null {
    const row = this.#ways.read((on) => on.one('SELECT surface FROM chances WHERE uuid = ?', id))
    return row === null ? null : bytesAt(row, 'surface')
  }
}
