import { diamond, findspotSize, gapHatch, type LineSymbolName, lineSymbols, targetReach } from './symbols.ts'

const closed: ReadonlySet<LineSymbolName> = new Set(['area', 'gap', 'field', 'noGo', 'hazard', 'constraint'])

/** A line symbol as it looks on the map, for legends. */
export function LineSwatch({ symbol }: { readonly symbol: LineSymbolName }) {
  const { colour, width, dash, casing } = lineSymbols[symbol]
  const shape = closed.has(symbol) ? { d: 'M4 4H40V18H4Z' } : { d: 'M3 15C12 4 20 18 28 9S38 6 41 5' }
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
        strokeLinecap={(dash as readonly number[])[0] === 1 ? 'round' : 'butt'}
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

type MarkSymbol = 'candidate' | 'accepted' | 'unsure' | 'rejected'

/** A mark by what was decided of it, for legends and lists. */
export function MarkSwatch({ state }: { readonly state: MarkSymbol }) {
  const { colour, width, dash, casing } = lineSymbols[state]
  const ring = { cx: 12, cy: 12, r: 8.5, fill: 'none' }
  return (
    <svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">
      <circle {...ring} stroke="var(--halo)" strokeWidth={casing} />
      <circle
        {...ring}
        stroke={`var(--${colour})`}
        strokeWidth={width}
        strokeDasharray={dash.length > 0 ? dash.map((length) => length * 0.8).join(' ') : undefined}
      />
      {state === 'accepted' ? <circle cx="12" cy="12" r="2.5" fill="var(--mark)" /> : null}
      {state === 'unsure' || state === 'rejected' ? (
        <text x="12" y="16.5" textAnchor="middle" fontSize="13" fontWeight="700" fill="var(--mark)">
          {state === 'unsure' ? '?' : '×'}
        </text>
      ) : null}
    </svg>
  )
}

/** A target's peg, for legends and lists. */
export function TargetSwatch() {
  const { plain } = targetReach
  const [across, up] = [plain * 0.866, plain * 1.5]
  return (
    <svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">
      <path
        d={`M12 19L${12 - across} ${19 - up}H${12 + across}Z`}
        fill="var(--ink)"
        stroke="var(--halo)"
        strokeWidth="2"
        strokeLinejoin="round"
        paintOrder="stroke"
      />
    </svg>
  )
}
