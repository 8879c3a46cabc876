import { pitsInParts } from '#core/marks'
import { serveSearch } from './marks-thread.ts'

await serveSearch(import.meta.url, pitsInParts, 'looking for pits')
