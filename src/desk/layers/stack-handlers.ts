import { deskApi } from '../api/desk-api.ts'
import { RequestError } from '../api/request.ts'
import { tellFault } from '../state/notices.ts'
import type { StackHandlers } from './picture-stack.ts'

/** How the desk waits for tiles, and tells why there are none; what the user cancelled needs no telling. */
export const stackHandlers: StackHandlers = {
  wait: deskApi.tilePainted,
  failed: (error) => {
    if (error instanceof RequestError && error.code === 'cancelled') return
    tellFault(error)
  },
}
