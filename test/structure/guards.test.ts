import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'

/**
 * Plants wrong imports in a miniature of the tree (the real tsconfig, Biome and package.json files over one-line modules)
 * and shows that the checks of `npm run check` refuse them, and refuse nothing else.
 */
const root = fileURLToPath(new URL('../..', import.meta.url))
const mayImport: Record<string, readonly string[]> = {
  core: [],
  formats: ['core'],
  contract: ['core'],
  store: ['core', 'formats'],
  work: ['core', 'formats', 'contract'],
  report: ['core', 'contract'],
  service: ['core', 'formats', 'contract', 'store', 'work', 'report'],
  server: ['core', 'contract', 'service'],
  cli: ['core', 'contract', 'service'],
  ui: ['core', 'contract'],
  desk: ['core', 'contract', 'ui'],
  field: ['core', 'formats', 'contract', 'ui'],
}
const layers = Object.keys(mayImport)
/** Layers with no name in package.json "imports" (pages, the tops of the tree) are reached by a relative path. */
const specifier = (layer: string): string =>
  layer === 'core' || layer === 'formats'
    ? `#${layer}/probe`
    : layer === 'desk' || layer === 'field'
      ? `../${layer}/index.ts`
      : `#${layer}`
const home = (layer: string): string =>
  layer === 'core' || layer === 'formats' ? `src/${layer}/probe` : `src/${layer}`

let mini = ''
beforeAll(() => {
  mkdirSync(path.join(root, '.build'), { recursive: true })
  mini = mkdtempSync(path.join(root, '.build', 'guards-'))
  for (const file of [
    'package.json',
    'biome.jsonc',
    'config/tsconfig.base.json',
    'config/no-clock-or-chance.grit',
  ]) {
    cpSync(path.join(root, file), path.join(mini, file))
  }
  for (const layer of layers) {
    mkdirSync(path.join(mini, home(layer)), { recursive: true })
    cpSync(path.join(root, 'src', layer, 'tsconfig.json'), path.join(mini, 'src', layer, 'tsconfig.json'))
    writeFileSync(path.join(mini, home(layer), 'index.ts'), `export const probe = '${layer}'\n`)
  }
})
afterAll(() => rmSync(mini, { recursive: true, force: true }))

const run = (program: string, args: readonly string[]) => {
  const done = spawnSync(process.execPath, [path.join(root, 'node_modules', program), ...args], {
    cwd: mini,
    encoding: 'utf8',
  })
  return { failed: done.status !== 0, output: done.stdout + done.stderr }
}
const types = (layer: string) => run('typescript/bin/tsc', ['-b', `src/${layer}`, '--pretty', 'false'])
const lint = (folder: string) =>
  run('@biomejs/biome/bin/biome', ['lint', '--vcs-enabled=false', '--max-diagnostics=50', folder])

function withPlanted<Result>(file: string, text: string, look: () => Result): Result {
  const full = path.join(mini, file)
  mkdirSync(path.dirname(full), { recursive: true })
  writeFileSync(full, text)
  try {
    return look()
  } finally {
    rmSync(full)
  }
}

describe('a layer that the design does not let in is refused', () => {
  test.each(layers)('%s', (layer) => {
    const others = layers.filter((other) => other !== layer)
    const lines = others.map((other, i) => `export { probe as p${i} } from '${specifier(other)}'`)
    const planted = `src/${layer}/planted.ts`
    // The compiler lets references of references through, so the two top layers need the lint rule as well.
    const output = withPlanted(
      planted,
      `${lines.join('\n')}\n`,
      () => types(layer).output + lint(planted).output,
    )
    const refused = others.filter(
      (_, i) => output.includes(`${planted}(${i + 1},`) || output.includes(`${planted}:${i + 1}:`),
    )
    expect(refused).toEqual(others.filter((other) => !mayImport[layer]?.includes(other)))
  })

  test.each(layers)('%s without a planted import passes', (layer) => {
    expect(types(layer)).toMatchObject({ failed: false })
  })

  test('also when only a type is imported', () => {
    const text = "import type { probe } from '#store'\nexport type Planted = typeof probe\n"
    expect(withPlanted('src/core/planted.ts', text, () => types('core')).failed).toBe(true)
  })
})

describe('the compiler refuses what a runtime does not have', () => {
  test.each([
    ['core', 'export const planted = process.pid'],
    ['core', 'export const planted = document.title'],
    ['core', 'console.log(1)'],
    ['formats', 'export const planted = fetch'],
    ['desk', "export { readFileSync } from 'node:fs'"],
  ])('%s: %s', (layer, text) => {
    expect(withPlanted(`src/${layer}/planted.ts`, `${text}\n`, () => types(layer)).failed).toBe(true)
  })
})

describe('lint refuses what the compiler cannot see', () => {
  test.each([
    [
      'an npm package in core',
      "import { parse } from 'csv-parse/sync'\nexport const planted = parse",
      'noRestrictedImports',
    ],
    ['a path into another core noun', "export { probe } from '../other/deep.ts'", 'noRestrictedImports'],
    ['the clock in core', 'export const planted = Date.now()', 'takes the time'],
    ['unseeded chance in core', 'export const planted = Math.random()', 'takes the time'],
    ['an import cycle', "import { probe } from './index.ts'\nexport const planted = probe", 'noImportCycles'],
    ['a default export', 'export default 1', 'noDefaultExport'],
    ['a file past 400 lines', 'export const line = 1\n'.repeat(401), 'noExcessiveLinesPerFile'],
  ])('%s', (_, text, rule) => {
    const index = path.join(mini, 'src/core/probe/index.ts')
    const before = readFileSync(index, 'utf8')
    if (rule === 'noImportCycles') writeFileSync(index, `${before}export { planted } from './planted.ts'\n`)
    const { failed, output } = withPlanted('src/core/probe/planted.ts', `${text}\n`, () => lint('src/core'))
    writeFileSync(index, before)
    expect(failed).toBe(true)
    expect(output).toContain(rule)
  })

  test('the miniature with nothing planted passes', () => {
    expect(lint('src')).toMatchObject({ failed: false })
  })
})
