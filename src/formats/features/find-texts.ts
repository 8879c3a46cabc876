import type { RecordedFindspot } from '#core/record'
import { plainDecimal } from '#formats/decimal'

/** The find and the accuracy of a findspot as texts, under the names that every reader here knows. Empty where there is nothing to say. */
export function findTexts({ find, accuracyM }: RecordedFindspot): Map<string, string> {
  const texts = new Map<string, string>()
  const keep = (name: string, value: string | number | null): void => {
    if (value !== null && value !== '')
      texts.set(name, typeof value === 'number' ? plainDecimal(value) : value)
  }
  if (find !== null) {
    keep('number', find.number)
    keep('object', find.object)
    keep('material', find.material)
    keep('period', find.period)
    keep('count', find.count)
    keep('weight_g', find.weightG)
    keep('depth_m', find.depthM)
  }
  keep('accuracy_m', accuracyM)
  return texts
}
