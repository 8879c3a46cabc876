import { randomBytes } from 'node:crypto'
import { tmpdir } from 'node:os'

/** What the server takes from the world around it. Each part left out is the machine's own. */
export interface Surroundings {
  /** Uploads wait here, in a folder only this user can read, while they are read. */
  readonly temporaryFolder?: string
  /** Takes the details of an unforeseen error; the page is given a plain sentence only. */
  readonly complain?: (details: string) => void
  /** A text that nobody can guess, another at each call. */
  readonly newSecret?: () => string
}

/** The machine's own surroundings: its temporary folder, stderr, and 256 random bits a secret. */
export function completeSurroundings(given: Surroundings = {}): Required<Surroundings> {
  return {
    temporaryFolder: given.temporaryFolder ?? tmpdir(),
    complain: given.complain ?? ((details) => process.stderr.write(`lynchet: ${details}\n`)),
    newSecret: given.newSecret ?? (() => randomBytes(32).toString('base64url')),
  }
}
