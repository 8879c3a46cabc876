import { deskApi } from '../api/desk-api.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { tell, tellFault } from '../state/notices.ts'

/** Takes the last change back and says what it was. */
export async function undoLast(): Promise<void> {
  try {
    const { undone } = await deskApi.undo()
    if (undone === null) tell('plain', 'There is nothing to undo.')
    else tell('good', `Took back: ${undone}.`)
    await workOutCoverIfStale()
  } catch (error) {
    tellFault(error)
  }
}
