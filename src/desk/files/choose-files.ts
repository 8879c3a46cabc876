import { importFiles } from './import-queue.ts'

export const fileInputId = 'files'

/** Opens the browser's own list of files. */
export function chooseFiles(): void {
  const input = document.getElementById(fileInputId)
  if (input instanceof HTMLInputElement) input.click()
}

/** Takes in what was chosen, and lets the same file be chosen again. */
export function takeChosen(input: HTMLInputElement): void {
  importFiles([...(input.files ?? [])])
  input.value = ''
}
