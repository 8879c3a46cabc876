import { ringsInParts } from '#core/marks'
import { serveSearch } from './marks-thread.ts'

await serveSearch(import.meta.url, ringsInParts, 'looking for rings')
