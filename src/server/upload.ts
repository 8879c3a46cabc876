import { type FileHandle, mkdtemp, open, rm } from 'node:fs/promises'
import path from 'node:path'
import { SurveyError } from '#core/faults'

export interface UploadPlace {
  readonly temporaryFolder: string
  readonly limitBytes: number
}

/** A gibibyte: a day of fixes is some ten million bytes, the largest picture of a field some hundred million. */
export const usualLimitBytes = 1024 ** 3

export function tooLarge(name: string, limitBytes: number): SurveyError {
  const limit = `${Math.floor(limitBytes / 1024 ** 2)} MiB`
  const text = `${name} is larger than ${limit}, the most that can be sent to the desk: use the command \`lynchet import\` on it.`
  return new SurveyError('file-too-large', text)
}

function cannotKeep(name: string, folder: string, cause: unknown): SurveyError {
  if ((cause as NodeJS.ErrnoException).code === 'ENOSPC') {
    const text = `${name} was not read: the disk that holds ${folder} is full. Make room and bring the file in again.`
    return new SurveyError('disk-full', text, { cause })
  }
  const text = `${name} was not read: the temporary folder ${folder} cannot be written.`
  return new SurveyError('cannot-write', text, { cause })
}

type Write = Pick<FileHandle, 'appendFile'>

/**
 * Writes a stream to a file, up to a limit. What follows a fault is still read, and dropped, so that the sender gets the
 * answer and not a broken connection. Time and disk grow with the stream, memory does not. Faults, as SurveyError:
 * file-too-large, disk-full, cannot-write; cancelled where the stream itself breaks (its sender has gone).
 */
export async function receive(
  source: AsyncIterable<Uint8Array>,
  file: Write,
  name: string,
  place: UploadPlace,
): Promise<void> {
  let fault: SurveyError | null = null
  let bytes = 0
  try {
    for await (const chunk of source) {
      if (fault) continue
      bytes += chunk.byteLength
      if (bytes > place.limitBytes) fault = tooLarge(name, place.limitBytes)
      else {
        await file.appendFile(chunk).catch((cause: unknown) => {
          fault = cannotKeep(name, place.temporaryFolder, cause)
        })
      }
    }
  } catch (cause) {
    throw new SurveyError('cancelled', `${name} was not read: its sender broke off.`, { cause })
  }
  if (fault) throw fault
}

/** Receives a stream into a file of its own, in a folder that only this user can enter; both are gone when `use` has ended. */
export async function withUpload<Result>(
  source: AsyncIterable<Uint8Array>,
  name: string,
  place: UploadPlace,
  use: (file: string) => Promise<Result>,
): Promise<Result> {
  const folder = await mkdtemp(path.join(place.temporaryFolder, 'lynchet-')).catch((cause: unknown) => {
    throw cannotKeep(name, place.temporaryFolder, cause)
  })
  try {
    const file = path.join(folder, 'upload')
    const handle = await open(file, 'wx', 0o600).catch((cause: unknown) => {
      throw cannotKeep(name, place.temporaryFolder, cause)
    })
    try {
      await receive(source, handle, name, place)
    } finally {
      await handle.close()
    }
    return await use(file)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}
