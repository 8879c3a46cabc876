import type { ExportFormat, ExportWhat, FindsExport, PackWishesGiven } from '#contract'
import type { NameLimits } from '#core/lanes'
import { deskApi } from '../api/desk-api.ts'
import { findsApi } from '../api/finds-api.ts'

/** The file name in a Content-Disposition header (RFC 6266), the UTF-8 form first; null where there is none. */
export function fileNameIn(disposition: string | null): string | null {
  const coded = /filename\*=UTF-8''([^;]+)/i.exec(disposition ?? '')?.[1]
  if (coded !== undefined) return decodeURIComponent(coded)
  return /filename="([^"]+)"/i.exec(disposition ?? '')?.[1] ?? null
}

/** Fetches an export and hands it to the browser to save; returns its name. Faults: RequestError. */
export async function saveExport(
  what: ExportWhat,
  format: ExportFormat,
  names: NameLimits | null = null,
): Promise<string> {
  return save(await deskApi.exported(what, format, names), `${what}.${format}`)
}

/** The same with a plan's targets and lanes for a handheld. */
export async function saveHandheld(plan: number, length: number, ascii: boolean): Promise<string> {
  return save(await deskApi.handheld(plan, length, ascii), 'plan.gpx')
}

/** The same with a plan's walk pack, and its sheet to take out. */
export async function saveWalkPack(plan: number, wishes: PackWishesGiven): Promise<string> {
  return save(await deskApi.walkPack(plan, wishes), 'walk.zip')
}
export async function saveWalkSheet(plan: number): Promise<string> {
  return save(await deskApi.walkSheet(plan), 'walk.pdf')
}

/** The same with the written agreement of a permission. */
export async function saveAgreement(permission: number): Promise<string> {
  return save(await deskApi.agreement(permission), 'agreement')
}

/** The same with the catalogue of finds. */
export async function saveFinds(how: FindsExport): Promise<string> {
  return save(await findsApi.export(how), `finds.${how.as}`)
}

/** The same with the landowner's report, a PDF. */
export async function saveLandownerReport(): Promise<string> {
  return save(await deskApi.landownerReport(), 'landowner.pdf')
}

/** Hands the file of a reply to the browser to save; returns its name. */
export async function save(reply: Response, usualName: string): Promise<string> {
  const name = fileNameIn(reply.headers.get('content-disposition')) ?? usualName
  const address = URL.createObjectURL(await reply.blob())
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
  return name
}
