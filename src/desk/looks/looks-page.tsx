export function LooksPage() {
  return null
}
