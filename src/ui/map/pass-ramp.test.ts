import { expect, test } from 'vitest'
import { passSteps } from '#contract'
import { luminance } from '../look/contrast.ts'
import { looks } from '../look/roles.ts'
import { passRamp } from './pass-ramp.ts'

const hex = (rgb: readonly number[]): string => `#${rgb.map((v) => v.toString(16).padStart(2, '0')).join('')}`

test.each(looks)('%s: each step of passes is told from the next by lightness alone', (look) => {
  const lightness = passRamp[look].map((rgb) => luminance(hex(rgb)))
  const rising = look === 'dark'
  for (let i = 1; i < lightness.length; i += 1) {
    const [less, more] = rising ? [lightness[i - 1]!, lightness[i]!] : [lightness[i]!, lightness[i - 1]!]
    expect((more + 0.05) / (less + 0.05)).toBeGreaterThan(1.45)
  }
})

test.each(looks)('%s has a colour for every step that the server tells apart', (look) => {
  expect(passRamp[look]).toHaveLength(passSteps)
})
