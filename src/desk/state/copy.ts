import { tell, tellFault } from './notices.ts'

/** Copies a text, and says so or why not. */
export async function copyText(text: string): Promise<void> {
  try {
    await navigator.clipboard.writeText(text)
    tell('good', `Copied ${text}.`)
  } catch {
    tellFault(new Error('The browser did not let the text be copied.'))
  }
}
