import { roundBelow } from '../plot/ticks.ts'
import { lengthText } from '../words/figures.ts'
import classes from './scale-bar.module.css'

/** A length of ground drawn to scale: 1, 2 or 5 times a power of ten, at most `mostPixels` long. Half of it is dark. */
export function ScaleBar({
  metresPerPixel,
  mostPixels = 140,
}: {
  readonly metresPerPixel: number
  readonly mostPixels?: number
}) {
  const length = roundBelow(metresPerPixel * mostPixels)
  const text =
    length < 1 ? `${Math.round(length * 100)}\u202fcm` : lengthText(length).replace(/\.0+(?=\u202f)/, '')
  return (
    <div className={classes.scale} role="img" aria-label={`Scale: the bar is ${text} long`}>
      <span>{text}</span>
      <div className={classes.bar} style={{ width: length / metresPerPixel }}>
        <div className={classes.half} />
      </div>
    </div>
  )
}

/** An arrow to grid north, which is up on every map here. */
export function NorthMark({ size = 34 }: { readonly size?: number }) {
  return (
    <svg
      className={classes.north}
      width={size * 0.72}
      height={size}
      viewBox="0 0 26 36"
      role="img"
      aria-label="Grid north is up"
    >
      <path d="M13 1L22 24L13 19Z" fill="var(--ink)" stroke="var(--ink)" strokeLinejoin="round" />
      <path d="M13 1L4 24L13 19Z" fill="var(--halo)" stroke="var(--ink)" strokeLinejoin="round" />
      <path d="M9.5 35V27L16.5 35V27" fill="none" stroke="var(--ink)" strokeWidth="1.75" />
    </svg>
  )
}
