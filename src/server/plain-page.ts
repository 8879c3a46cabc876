export interface PlainPage {
  readonly title: string
  readonly sentences: readonly string[]
  readonly link?: { readonly href: string; readonly text: string } | null
}

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.codePointAt(0)};`)

/** A page that stands alone, for when the desk itself cannot be shown. Light or dark as the system is. */
export function plainPage({ title, sentences, link }: PlainPage): string {
  const body = sentences.map((sentence) => `<p>${escaped(sentence)}</p>`)
  if (link) body.push(`<p><a href="${escaped(link.href)}">${escaped(link.text)}</a></p>`)
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)} · Lynchet</title>
<style>
:root { color-scheme: light dark; background: Canvas; color: CanvasText; font: 1.125rem/1.5 system-ui, sans-serif; }
main { max-width: 34rem; margin: 15vh auto 0; padding: 0 1.5rem; }
h1 { font-size: 1.5rem; line-height: 1.25; }
a { color: LinkText; }
</style>
</head>
<body>
<main>
<h1>${escaped(title)}</h1>
${body.join('\n')}
</main>
</body>
</html>
`
}
