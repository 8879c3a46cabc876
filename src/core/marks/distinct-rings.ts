interface Placed {
  readonly x: number
  readonly y: number
  readonly diameter: number
  readonly logOdds: number
}

/** Centres nearer than this share of the larger diameter are taken for one ring. */
const same = 0.3

/** Of rings that lie on one another the best; best first. The order in which they were found does not matter. */
export function distinctRings<Ring extends Placed>(rings: readonly Ring[]): Ring[] {
  const order = rings.toSorted(
    (a, b) => b.logOdds - a.logOdds || a.y - b.y || a.x - b.x || a.diameter - b.diameter,
  )
  const largest = order.reduce((most, { diameter }) => Math.max(most, diameter), 1)
  const cell = same * largest
  const places = new Map<string, Ring[]>()
  const near = (ring: Ring): Ring[] => {
    const [column, row] = [Math.floor(ring.x / cell), Math.floor(ring.y / cell)]
    return [-1, 0, 1].flatMap((dy) =>
      [-1, 0, 1].flatMap((dx) => places.get(`${column + dx},${row + dy}`) ?? []),
    )
  }
  return order.filter((ring) => {
    const taken = near(ring).some(
      (other) =>
        Math.hypot(ring.x - other.x, ring.y - other.y) < same * Math.max(ring.diameter, other.diameter),
    )
    if (taken) return false
    const key = `${Math.floor(ring.x / cell)},${Math.floor(ring.y / cell)}`
    const here = places.get(key)
    if (here) here.push(ring)
    else places.set(key, [ring])
    return true
  })
}
