import { expect, test } from 'vitest'
import { kindOfAddress, serverOf } from './base-map-words.ts'

test.each([
  ['https://a.org/{z}/{x}/{y}.png', 'xyz', 'a.org'],
  ['https://a.org:8443/{z}/{x}/{-y}?k=1', 'xyz', 'a.org:8443'],
  ['https://a.org/wmts?REQUEST=GetCapabilities', 'wmts', 'a.org'],
  ['https://a.org?x', 'wmts', 'a.org'],
])('%s is %s of %s', (address, kind, server) => {
  expect(kindOfAddress(address)).toBe(kind)
  expect(serverOf({ address })).toBe(server)
})
