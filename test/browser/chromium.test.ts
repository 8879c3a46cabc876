import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { findChromium, usualPlaces } from '../../tools/chromium.mjs'

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
afterAll(() => rmSync(folder, { recursive: true }))

test.skipIf(process.platform === 'win32')(
  'a named Chromium is taken, and no other if it is not there',
  () => {
    const program = path.join(folder, 'google-chrome')
    writeFileSync(program, '')
    expect(() => findChromium('linux', { LYNCHET_CHROMIUM: program })).toThrow(program)
    chmodSync(program, 0o755)
    expect(findChromium('linux', { LYNCHET_CHROMIUM: program })).toBe(program)
    expect(() => findChromium('linux', { LYNCHET_CHROMIUM: `${program}-2`, PATH: folder })).toThrow(
      'no program there',
    )
  },
)

test('the usual places of each system are known', () => {
  expect(usualPlaces('linux', { PATH: '/opt/bin' })[0]).toBe('/usr/bin/chromium')
  expect(usualPlaces('linux', { PATH: '/opt/bin' })).toContain('/opt/bin/google-chrome')
  expect(usualPlaces('darwin', {})).toContain('/Applications/Google Chrome.app/Contents/MacOS/Google Chrome')
  expect(usualPlaces('win32', { PROGRAMFILES: 'C:\\Program Files' })).toContain(
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  )
  expect(findChromium('win32', {})).toBeNull()
})
