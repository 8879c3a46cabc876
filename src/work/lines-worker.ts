import { linesInParts } from '#core/marks'
import { serveSearch } from './marks-thread.ts'

await serveSearch(import.meta.url, linesInParts, 'looking for lines')
