import { createStore } from '../state/store.ts'

/** The finds that labels are asked for. */
export const labelFinds = createStore<readonly number[]>([])
