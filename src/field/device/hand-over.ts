/** How a file left the page: through the device's share sheet, as a download, or not, because the person turned back. */
export type HandedOver = 'shared' | 'downloaded' | 'turned-back'

/** True where this device can pass files of that kind on to another app. */
export function canShare(file: File): boolean {
  return typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] })
}

/** Passes a file on through the device's share sheet. Rejects where the device will not. */
export async function shareFile(file: File): Promise<HandedOver> {
  try {
    await navigator.share({ files: [file], title: file.name })
    return 'shared'
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return 'turned-back'
    throw error
  }
}

export function downloadFile(file: File): HandedOver {
  const address = URL.createObjectURL(file)
  const link = document.createElement('a')
  link.href = address
  link.download = file.name
  link.click()
  // The browser reads the address after this turn; a minute is ample for a day's walk.
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
  return 'downloaded'
}
