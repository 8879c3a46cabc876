import { type PhotographRole, photographRoles } from '#core/finds'
import { findsApi } from '../api/finds-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { tell, tellFault } from '../state/notices.ts'

const isPicture = ({ name, type }: File): boolean =>
  type.startsWith('image/') || /\.(jpe?g|png|webp|heic|heif)$/i.test(name)

/** True where all files may be photographs of a find: GeoTIFFs and the like are left to the map. */
export function arePictures(files: readonly File[]): boolean {
  return files.length > 0 && files.every((file) => isPicture(file) && !/\.tiff?$/i.test(file.name))
}

/** The roles that pictures get in the order they come: one side, the other, then anything. */
function nextRole(taken: readonly PhotographRole[]): PhotographRole {
  return photographRoles.slice(0, 2).find((role) => !taken.includes(role)) ?? 'other'
}

/** Adds pictures to a find, one after another; what became of each is said. */
export async function addPhotographs(
  find: { readonly id: number; readonly number: string },
  files: readonly File[],
  roles: readonly PhotographRole[] = [],
): Promise<void> {
  const taken = [...roles]
  for (const file of files) {
    try {
      const role = nextRole(taken)
      const { alreadyThere, alsoOf } = await findsApi.addPhotograph(find.id, file, role)
      if (alreadyThere) tell('plain', `${find.number} has ${file.name} already; nothing was changed.`)
      else {
        taken.push(role)
        if (alsoOf.length > 0) tell('warn', `${file.name} is a photograph of ${alsoOf.join(', ')} too.`)
      }
    } catch (error) {
      tellFault(error)
    }
  }
  await refreshSurvey()
}
