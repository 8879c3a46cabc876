// One door for `npm start`, `npm test`, `npm run check`, `npm run bench`, `npm run lynchet`: sets up what is missing, then
// runs the work under Node 24.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'
import path from 'node:path'
import { bin, compileCache, ensurePackages, ensurePage, node24, root } from './setup.mjs'

const [verb, ...rest] = process.argv.slice(2)
const env = {
  NODE_COMPILE_CACHE: compileCache,
  ...process.env,
  PATH: `${path.dirname(node24)}${path.delimiter}${process.env.PATH}`,
}

/** Runs a program under Node 24 to its end, passing signals on; ends this process when it fails or is the last. */
function become(args, cwd = root) {
  const child = spawn(node24, args, { cwd, env, stdio: 'inherit' })
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal))
  child.on('exit', (code, signal) => process.exit(signal ? 1 : (code ?? 1)))
}

function step(name, args) {
  process.stderr.write(`lynchet: ${name} …\n`)
  const done = spawnSync(node24, args, { cwd: root, env, stdio: 'inherit' })
  if (done.status !== 0) {
    process.stderr.write(`lynchet: ${name} failed\n`)
    process.exit(1)
  }
}

const pages = () => {
  ensurePage('desk', ['src/desk', 'src/ui', 'src/core', 'src/contract', 'config'])
  ensurePage('field', ['src/field', 'src/ui', 'src/core', 'src/formats', 'src/contract', 'config'])
}

const verbs = {
  start() {
    pages()
    become(['src/lynchet.ts', 'open', ...rest])
  },
  lynchet() {
    if (rest[0] === 'open') pages()
    become([path.join(root, 'src', 'lynchet.ts'), ...rest], process.env.INIT_CWD ?? process.cwd())
  },
  async test() {
    const { ensureChromium } = await import('./chromium.mjs')
    ensureChromium()
    pages()
    become([bin('vitest/vitest.mjs'), 'run', '--config', 'config/vitest.config.ts', ...rest])
  },
  check() {
    step('types', [bin('typescript/bin/tsc'), '-b'])
    step('lint, import direction and cycles', [
      bin('@biomejs/biome/bin/biome'),
      'check',
      '--error-on-warnings',
      '.',
    ])
    step('unused code', [bin('knip/bin/knip.js'), '--config', 'config/knip.jsonc'])
  },
  bench() {
    const all = readdirSync(path.join(root, 'bench')).filter((file) => file.endsWith('.ts'))
    const wanted = rest.filter((word) => !word.startsWith('-'))
    const flags = rest.filter((word) => word.startsWith('-'))
    for (const file of wanted.length > 0 ? wanted.map((name) => `${name}.ts`) : all) {
      if (!existsSync(path.join(root, 'bench', file))) {
        process.stderr.write(`lynchet: no bench named ${file}; there are: ${all.join(' ')}\n`)
        process.exit(2)
      }
      step(`bench ${file}`, ['--expose-gc', path.join('bench', file), ...flags])
    }
  },
}

const work = verbs[verb]
if (!work) {
  process.stderr.write(`lynchet: give one of ${Object.keys(verbs).join(', ')}\n`)
  process.exit(2)
}
ensurePackages()
await work()
