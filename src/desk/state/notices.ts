import type { NoticeTone } from '#ui'
import { sentenceOf } from '../api/request.ts'
import { createStore } from './store.ts'

export interface NoticeEntry {
  readonly id: number
  readonly tone: NoticeTone
  readonly text: string
  readonly action?: { readonly label: string; readonly run: () => void } | undefined
}

/** The messages now on the map, oldest first. */
export const notices = createStore<readonly NoticeEntry[]>([])

let nextId = 1
const mostShown = 3
const shownMs = 9000

export function dismissNotice(id: number): void {
  notices.set((now) => now.filter((notice) => notice.id !== id))
}

/** Takes all messages away. */
export function clearNotices(): void {
  notices.set([])
}

/** Shows a message. A fault stays until it is closed; anything else goes after a while. */
export function tell(tone: NoticeTone, text: string, action?: NoticeEntry['action']): void {
  const id = nextId
  nextId += 1
  notices.set((now) => {
    const faults = now.filter((notice) => notice.tone === 'fault' && notice.text !== text)
    return [...faults, { id, tone, text, action }].slice(-mostShown)
  })
  if (tone !== 'fault') setTimeout(() => dismissNotice(id), shownMs)
}

/** Shows the one sentence of a fault. */
export function tellFault(error: unknown): void {
  tell('fault', sentenceOf(error))
}
