// Plain JavaScript that runs on Node 20 and later with nothing installed: finds a Chromium for the browser tests and, where
// the system is Debian-like and we are root (a build machine), installs one. All it says goes to stderr.
import { spawnSync } from 'node:child_process'
import { accessSync, constants, statSync } from 'node:fs'
import path from 'node:path'

const onPath = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable']

/** Where Chromium or Chrome usually lies, best first, for this system and these environment variables. */
export function usualPlaces(platform = process.platform, env = process.env) {
  if (platform === 'darwin') {
    const apps = ['/Applications', ...(env.HOME ? [`${env.HOME}/Applications`] : [])]
    return apps.flatMap((folder) => [
      `${folder}/Chromium.app/Contents/MacOS/Chromium`,
      `${folder}/Google Chrome.app/Contents/MacOS/Google Chrome`,
    ])
  }
  if (platform === 'win32') {
    return [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA]
      .filter(Boolean)
      .flatMap((folder) => [
        `${folder}\\Chromium\\Application\\chrome.exe`,
        `${folder}\\Google\\Chrome\\Application\\chrome.exe`,
      ])
  }
  const folders = ['/usr/bin', ...(env.PATH ?? '').split(path.delimiter).filter(Boolean)]
  return onPath.flatMap((name) => [...new Set(folders.map((folder) => path.join(folder, name)))])
}

function runs(file) {
  try {
    accessSync(file, constants.X_OK)
    return statSync(file).isFile()
  } catch {
    return false
  }
}

/**
 * The Chromium to use: LYNCHET_CHROMIUM where it is set, else the first of the usual places that holds a program; null
 * where there is none. A LYNCHET_CHROMIUM that names no program is an error, not a reason to take another.
 */
export function findChromium(platform = process.platform, env = process.env) {
  const named = env.LYNCHET_CHROMIUM
  if (named) {
    if (runs(named)) return named
    throw new Error(`LYNCHET_CHROMIUM is ${named}, and there is no program there.`)
  }
  return usualPlaces(platform, env).find(runs) ?? null
}

export const howToInstall =
  'The browser tests need Chromium or Chrome: install one (on Debian or Ubuntu `sudo apt-get install chromium`), or set LYNCHET_CHROMIUM to its program.'

const say = (text) => process.stderr.write(`lynchet: ${text}\n`)

function apt(args) {
  say(`apt-get ${args.join(' ')} …`)
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  return spawnSync('apt-get', args, { stdio: ['ignore', 2, 2], env }).status === 0
}

/**
 * Finds a Chromium, or installs Debian's where that can be done without asking: root, and apt-get there. Returns its path;
 * null, with one sentence on what to install, where there is none. The tests that need it then fail and say the same.
 */
export function ensureChromium() {
  const found = findChromium()
  if (found) return found
  const root = process.getuid?.() === 0
  const hasApt = ['/usr/bin/apt-get', '/bin/apt-get'].some(runs)
  if (root && hasApt) {
    say('no Chromium was found; installing it for the browser tests, with the system packages it needs.')
    if (apt(['update', '-q']) && apt(['install', '-y', '-q', '--no-install-recommends', 'chromium'])) {
      const installed = findChromium()
      if (installed) return installed
    }
    say('Chromium could not be installed.')
  }
  say(howToInstall)
  return null
}
