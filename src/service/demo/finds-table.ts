import { formatGridRef } from '#core/geodesy'
import type { DemoFind } from './finds.ts'
import { toGrid } from './scenario.ts'

const header = [
  'number',
  'object',
  'material',
  'period',
  'depth cm',
  'weight g',
  'time',
  'grid reference',
  'note',
]

/** The finder's own list as CSV: ten-figure grid references, that is the square metre a find lay in. */
export function findsTable(finds: readonly DemoFind[]): string {
  const rows = finds.map((find) => [
    find.number,
    find.object,
    find.material,
    find.period,
    String(Math.round(find.depthM * 100)),
    String(find.weightG),
    new Date(find.time * 1000).toISOString().replace('.000Z', 'Z'),
    formatGridRef(...toGrid(find.place), 10),
    find.note,
  ])
  return [header, ...rows].map((row) => `${row.map(quoted).join(',')}\r\n`).join('')
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell
}
