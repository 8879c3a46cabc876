import { expect, test } from 'vitest'
import { cookieValue, createSession } from './session.ts'

const secrets = (): (() => string) => {
  let count = 0
  return () => `secret-${++count}`
}

test('the key and the cookie are two secrets', () => {
  const session = createSession(4000, secrets())
  expect(session.key).toBe('secret-1')
  expect(session.redeem('secret-2')).toBeNull()
  expect(session.redeem('')).toBeNull()
  expect(session.redeem('secret-1')).toBe('lynchet-4000=secret-2; Path=/; HttpOnly; SameSite=Strict')
  expect(session.redeem('secret-1')).toBeNull()
  expect(session.heldBy('lynchet-4000=secret-2')).toBe(true)
  expect(session.heldBy('lynchet-4000=secret-1')).toBe(false)
  expect(session.heldBy('lynchet-4001=secret-2')).toBe(false)
  expect(session.heldBy(undefined)).toBe(false)
})

test.each([
  ['a=1; b=2', 'b', '2'],
  ['a=1;b=2', 'b', '2'],
  ['b=x=y', 'b', 'x=y'],
  ['b=', 'b', ''],
  ['ab=1', 'b', undefined],
  ['b', 'b', undefined],
  ['=b', 'b', undefined],
  ['', 'b', undefined],
])('in %j the value of %j is %j', (header, name, value) => expect(cookieValue(header, name)).toBe(value))
