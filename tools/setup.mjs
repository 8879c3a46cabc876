// Plain JavaScript that runs on Node 20 and later with nothing installed: makes a fresh clone ready.
// All it says goes to stderr, so that a command's own output stays clean.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..')
const windows = process.platform === 'win32'
export const node24 = path.join(root, 'node_modules', 'node', 'bin', windows ? 'node.exe' : 'node')
/** The sources run as they are; what Node makes of them is kept here, so that a command starts in half a second instead of one. */
export const compileCache = path.join(root, 'node_modules', '.cache', 'lynchet')
const stamp = path.join(root, 'node_modules', '.lynchet-installed')

export function say(text) {
  process.stderr.write(`lynchet: ${text}\n`)
}

function stop(text) {
  say(text)
  process.exit(1)
}

const lockHash = () =>
  createHash('sha256')
    .update(readFileSync(path.join(root, 'package-lock.json')))
    .digest('hex')

/** Installs the exact packages of package-lock.json, the Node 24 binary among them, unless that has been done. */
export function ensurePackages() {
  const wanted = lockHash()
  if (existsSync(stamp) && existsSync(node24) && readFileSync(stamp, 'utf8') === wanted) return
  say('setting up: installing the packages listed in package-lock.json (about a minute, once) …')
  const npm = spawnSync(windows ? 'npm.cmd' : 'npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: windows,
  })
  if (npm.status !== 0) stop('setting up failed: `npm ci` did not finish. Check the network and try again.')
  const version = existsSync(node24) ? spawnSync(node24, ['--version'], { encoding: 'utf8' }).stdout : ''
  if (!version?.startsWith('v24.')) {
    stop(
      'setting up failed: the package "node" brought no Node 24. Are install scripts blocked (ignore-scripts)?',
    )
  }
  writeFileSync(stamp, wanted)
}

/** Newest change below the given folders, milliseconds since 1970. */
function newestChange(folders) {
  let newest = 0
  const walk = (entry) => {
    const stat = statSync(entry)
    if (stat.isDirectory()) for (const name of readdirSync(entry)) walk(path.join(entry, name))
    else newest = Math.max(newest, stat.mtimeMs)
  }
  for (const folder of folders) walk(path.join(root, folder))
  return newest
}

/** Builds one page (desk or field) into dist/ unless its sources are older than the last build. */
export function ensurePage(page, sources) {
  const built = path.join(root, 'dist', page, 'index.html')
  if (existsSync(built) && statSync(built).mtimeMs > newestChange([...sources, 'package-lock.json'])) return
  say(`building the ${page} page …`)
  const vite = spawnSync(
    node24,
    [bin('vite/bin/vite.js'), 'build', '--config', `config/vite.${page}.ts`, '--logLevel', 'warn'],
    {
      cwd: root,
      stdio: ['ignore', 2, 2],
    },
  )
  if (vite.status !== 0) stop(`the ${page} page could not be built.`)
}

export const bin = (file) => path.join(root, 'node_modules', ...file.split('/'))
