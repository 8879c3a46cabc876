/**
 * How well and how fast lines are found on synthetic scenes: `npm run bench marks-lines`, or `node bench/marks-lines.ts KIND SEED…`. One JSON line a scene. `--threads`
 * reads the scene from a file of blocks by as many threads as there are processors, and `--strong` draws lines as strong as the rings of bench/marks.ts. `--write FOLDER` writes scenes for bench/peers/lines.py instead,
 * and `--judge FILE.json` judges what that found by the same rule (bench/scenes/judge-lines.ts).
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { findLines } from '#core/marks'
import { linesInThreads } from '#work'
import { judgeLines, type LineJudgement } from './scenes/judge-lines.ts'
import { faint, likeRings, lineAsked, makeLineScene } from './scenes/line-scene.ts'
import { onBlocks } from './scenes/on-blocks.ts'
import type { SceneKind } from './scenes/scene.ts'

const words = process.argv.slice(2)
const after = (option: string): string | undefined =>
  words.includes(option) ? words[words.indexOf(option) + 1] : undefined
const [written, found] = [after('--write'), after('--judge')]
const plain = words.filter((word) => !word.startsWith('--') && word !== written && word !== found)
const kinds = (plain[0] === undefined ? ['plain', 'ploughed', 'rough'] : [plain[0]]) as SceneKind[]
const seeds = plain.length > 1 ? plain.slice(1).map(Number) : [1001, 1002]
const contrasts = words.includes('--strong') ? likeRings : faint
const settings = { ...lineAsked, tone: 'either', most: 1000 } as const

function tell(told: object, judged: readonly [LineJudgement, LineJudgement]): void {
  const round = (value: number): number => Number(value.toFixed(3))
  const [strict, lenient] = judged
  console.log(
    JSON.stringify({
      ...told,
      strict: round(strict.averagePrecision),
      ap: round(lenient.averagePrecision),
      f1: round(lenient.bestF1),
      precision: round(lenient.precision),
      recall: round(lenient.recall),
      ...Object.fromEntries(Object.entries(lenient.recallOf).map(([sort, share]) => [sort, round(share)])),
    }),
  )
}

if (found !== undefined) {
  const peers = JSON.parse(readFileSync(found, 'utf8')) as {
    method: string
    kind: SceneKind
    seed: number
    seconds: number
    lines: number[][]
  }[]
  for (const { method, kind, seed, seconds, lines: own } of peers) {
    const { lines, others } = makeLineScene(kind, seed, undefined, contrasts)
    const candidates = own.slice(0, settings.most).map((xy) => ({ xy }))
    tell({ method, scene: `${kind}-${seed}`, seconds }, [
      judgeLines(candidates, lines),
      judgeLines(candidates, lines, others),
    ])
  }
} else {
  for (const kind of kinds)
    for (const seed of seeds) {
      const { raster, lines, others } = makeLineScene(kind, seed, undefined, contrasts)
      if (written !== undefined) {
        mkdirSync(written, { recursive: true })
        writeFileSync(path.join(written, `${kind}-${seed}.f32`), raster.values)
        continue
      }
      const { columns, rows } = raster
      const file = words.includes('--threads') ? onBlocks(raster) : null
      const before = process.cpuUsage()
      const started = performance.now()
      const candidates = file
        ? (await linesInThreads({ blocks: file.blocks, columns, rows, settings })).candidates
        : findLines(raster, settings)
      const seconds = Number(((performance.now() - started) / 1000).toFixed(2))
      const { user, system } = process.cpuUsage(before)
      file?.end()
      tell({ method: 'lines', scene: `${kind}-${seed}`, seconds, cpu: (user + system) / 1e6 }, [
        judgeLines(candidates, lines),
        judgeLines(candidates, lines, others),
      ])
    }
}
