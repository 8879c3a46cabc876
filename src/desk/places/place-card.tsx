import type { PlaceView, SurveyGridView } from '#contract'
import { Card, FactList, Notice } from '#ui'
import { copyText } from '../state/copy.ts'
import { outsideText, placeFacts, placeName } from './place-words.ts'
import { dropPlace } from './shown-place.ts'

interface PlaceCardProps {
  readonly place: PlaceView
  readonly grid: SurveyGridView | null
}

/** The place that was asked for, in every notation. */
export function PlaceCard({ place, grid }: PlaceCardProps) {
  const outside = outsideText(place, grid)
  return (
    <Card title={placeName(place)} closeLabel="Let go of the place" onClose={dropPlace} testId="place-card">
      {outside === null ? null : <Notice tone="warn">{outside}</Notice>}
      {place.warnings.map((warning) => (
        <Notice key={warning} tone="warn">
          {warning}
        </Notice>
      ))}
      <FactList facts={placeFacts(place)} onCopy={(text) => void copyText(text)} />
    </Card>
  )
}
