import { deskApi } from '../api/desk-api.ts'
import { RequestError } from '../api/request.ts'
import { tell, tellFault } from '../state/notices.ts'
import type { StackHandlers } from './picture-stack.ts'

/** How the desk waits for tiles, and tells why there are none. */
export const stackHandlers: StackHandlers = {
  wait: deskApi.tilePainted,
  failed: (error) => {
    if (error instanceof RequestError && error.code === 'cancelled')
      tell('plain', 'Cancelled: the map shows what it showed before. Choose the view again to begin anew.')
    else tellFault(error)
  },
}
