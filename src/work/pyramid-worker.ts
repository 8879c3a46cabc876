import type { Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { plainPicture } from './plain-picture.ts'
import { serveProcess } from './process-side.ts'
import { fileHash } from './pyramid-hash.ts'
import { type LookedPicture, type LookInput, lookAtPicture } from './pyramid-look.ts'
import { makePlanes, type PictureForm, type PicturePlanes } from './pyramid-picture.ts'

/** The whole detail of a picture that was looked at before. */
export interface WholeInput extends LookInput {
  readonly form: PictureForm
  readonly sha256: string
}

export type PyramidTask = ({ readonly task: 'look' } & LookInput) | ({ readonly task: 'whole' } & WholeInput)
export type PyramidResult = LookedPicture | PicturePlanes

serveProcess<PyramidTask, PyramidResult>((input, progress) =>
  input.task === 'look' ? lookAtPicture(input, progress) : wholePicture(input, progress),
)

/** A file that has been exchanged since is refused, for what is made of it is kept under the old one's hash. */
async function wholePicture(
  { file, name, folder, form, sha256 }: WholeInput,
  progress: Progress,
): Promise<PicturePlanes> {
  const plain = await plainPicture({ file, name, folder }, progress)
  const make = (failOn: 'error' | 'none') =>
    makePlanes(
      file,
      name,
      form,
      { folder, whole: true, opening: { failOn }, sources: plain?.sources },
      progress,
    )
  // The damage was told when the picture came in.
  const [hash, planes] = await Promise.all([fileHash(file), make('error').catch(() => make('none'))])
  if (hash !== sha256) {
    const sentence = `${name} is no longer the file that was brought in: something has changed it; bring it in again.`
    throw new SurveyError('not-found', sentence)
  }
  return planes
}
