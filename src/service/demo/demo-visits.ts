import type { VisitFacts } from '#store'

/** Who walked, with what and in what weather, as the walker would have written it down; by day. All invented. */
export const demoVisits: ReadonlyMap<string, Partial<VisitFacts>> = new Map([
  [
    '2026-09-12',
    {
      person: 'Wren Ashlock',
      coilM: 0.33,
      rateHz: 1.5,
      errorM: 1.1,
      ownChance: 0.9,
      weather: 'Dry, light westerly wind, 16 °C',
      ground: 'Stubble, cut short; soil damp from a shower in the night',
    },
  ],
  [
    '2026-09-20',
    {
      person: 'Wren Ashlock',
      coilM: 0.33,
      rateHz: 1.5,
      errorM: 1.1,
      ownChance: 0.85,
      weather: 'Bright, no wind, 18 °C',
      ground: 'Stubble, dry and hard on the terrace; a strip left standing for the birds',
    },
  ],
])
