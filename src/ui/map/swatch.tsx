import { diamond, findspotSize, gapHatch, type LineSymbolName, lineSymbols } from './symbols.ts'

/** A line symbol as it looks on the map, for legends. */
export function LineSwatch({ symbol }: { readonly symbol: LineSymbolName }) {
  const { colour, width, dash, casing } = lineSymbols[symbol]
  const shape =
    symbol === 'area' || symbol === 'gap' ? { d: 'M4 4H40V18H4Z' } : { d: 'M3 15C12 4 20 18 28 9S38 6 41 5' }
  const pattern = `hatch-${symbol}`
  return (
    <svg width="44" height="22" viewBox="0 0 44 22" aria-hidden="true">
      {symbol === 'gap' ? (
        <pattern
          id={pattern}
          width={gapHatch.pitch}
          height={gapHatch.pitch}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width={gapHatch.width} height={gapHatch.pitch} fill="var(--gap)" />
        </pattern>
      ) : null}
      {casing > 0 ? <path {...shape} fill="none" stroke="var(--halo)" strokeWidth={casing} /> : null}
      <path
        {...shape}
        fill={symbol === 'gap' ? `url(#${pattern})` : 'none'}
        stroke={`var(--${colour})`}
        strokeWidth={Math.max(1.5, width)}
        strokeDasharray={dash.length > 0 ? dash.join(' ') : undefined}
        strokeLinecap={symbol === 'planned' ? 'round' : 'butt'}
      />
    </svg>
  )
}

/** The findspot's diamond, for legends and lists. */
export function FindspotSwatch({ chosen = false }: { readonly chosen?: boolean }) {
  const reach = findspotSize.plain
  const points = (size: number): string =>
    diamond(11, 11, size)
      .map((corner) => corner.join(','))
      .join(' ')
  return (
    <svg width="22" height="22" viewBox="0 0 22 22" aria-hidden="true">
      <polygon
        points={points(reach)}
        fill={chosen ? 'var(--selected)' : 'var(--findspot)'}
        stroke="var(--halo)"
        strokeWidth="3"
        paintOrder="stroke"
      />
      <polygon points={points(reach * 0.36)} fill="var(--halo)" />
    </svg>
  )
}
