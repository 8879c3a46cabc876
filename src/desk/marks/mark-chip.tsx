import { useState } from 'react'
import type { Layer, LayerView, Mark } from '#contract'
import { chipAddress, chipSide } from './chip-address.ts'
import classes from './marks.module.css'

interface MarkChipProps {
  readonly mark: Mark
  readonly layer: Layer
  readonly view: LayerView
  /** True: the outline is drawn over the picture. */
  readonly outlined: boolean
  /** What it shows, for those who do not see it; empty where the words stand beside it. */
  readonly alt: string
}

/** A circle round a ring is drawn so much wider than it is: the ditch itself must stay in sight. */
const roundAbout = 1.25

/** The outline over a chip, in shares of its side; lines keep their width whatever its size. */
function Outline({ mark }: { readonly mark: Mark }) {
  const side = chipSide(mark) / (mark.diameterM === null ? 1 : roundAbout)
  const points = mark.outline.map(([e, n]) => [
    ((e - mark.easting) / side + 0.5) * 100,
    (0.5 - (n - mark.northing) / side) * 100,
  ])
  const d = points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x!.toFixed(2)} ${y!.toFixed(2)}`).join('')
  return (
    <svg className={classes.outline} viewBox="0 0 100 100" aria-hidden="true">
      <path d={d} className={classes.outlineCasing} />
      <path d={d} className={classes.outlineLine} />
    </svg>
  )
}

/** The ground about a mark on one layer, in one view. */
export function MarkChip({ mark, layer, view, outlined, alt }: MarkChipProps) {
  const address = chipAddress(mark, layer, view)
  const [failed, setFailed] = useState<string | null>(null)
  return (
    <span className={classes.chip}>
      {failed === address ? (
        <span className={classes.chipLack}>No picture here</span>
      ) : (
        <img alt={alt} src={address} loading="lazy" onError={() => setFailed(address)} />
      )}
      {outlined ? <Outline mark={mark} /> : null}
    </span>
  )
}
