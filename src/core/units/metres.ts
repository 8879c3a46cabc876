declare const brand: unique symbol

/** A length in metres, checked to be finite where it entered the code. */
export type Metres = number & { readonly [brand]: 'Metres' }

/** A finite length. Faults: RangeError for NaN and infinities. */
export function metres(value: number): Metres {
  if (!Number.isFinite(value)) throw new RangeError(`metres must be finite, got ${value}`)
  return value as Metres
}

/** A finite length above zero. Faults: RangeError otherwise. */
export function positiveMetres(value: number): Metres {
  if (!(value > 0)) throw new RangeError(`metres must be above zero, got ${value}`)
  return metres(value)
}
