import type { SeenLayer } from '../layers/layer-looks.ts'
import { DrawSection } from './draw-section.tsx'
import { MarksList } from './marks-list.tsx'
import { SearchSection } from './search-section.tsx'
import { TargetList } from './target-list.tsx'

interface MarksSectionsProps {
  readonly layers: readonly SeenLayer[]
  readonly gridless: boolean
}

/** All of the stage Marks but the pictures: the search, the marks, drawing by hand, the targets. */
export function MarksSections({ layers, gridless }: MarksSectionsProps) {
  return (
    <>
      <SearchSection layers={layers} />
      <MarksList layers={layers} />
      <DrawSection gridless={gridless} />
      <TargetList />
    </>
  )
}
