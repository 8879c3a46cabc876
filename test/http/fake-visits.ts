import type { ChancesWish, PhotographMoment, Visit } from '#contract'
import { SurveyError } from '#core/faults'
import type { StartedJob, VisitService } from '#service'

export const madeUpVisit: Visit = {
  id: 4,
  uuid: '00000000-0000-4000-8000-000000000044',
  name: '2026-09-12',
  day: '2026-09-12',
  person: null,
  swathM: null,
  coilM: null,
  rateHz: null,
  errorM: null,
  ownChance: null,
  clockOffsetS: 0,
  cutDrives: false,
  weather: null,
  ground: null,
  tracks: [7],
  findspots: 1,
  start: null,
  end: null,
}

export const madeUpMoment: PhotographMoment = {
  name: 'a.jpg',
  sha256: null,
  takenLocal: '2026-09-12T10:15:00',
  zone: null,
  time: null,
  place: null,
  camera: null,
  faults: [],
}

/** A test double for the visits of a fake desk: one visit in memory, nothing worked out. `start` begins a job that the test ends. */
export function fakeVisits(start: () => StartedJob<void>): VisitService & { readonly wishes: ChancesWish[] } {
  let visit = madeUpVisit
  const wishes: ChancesWish[] = []
  const found = (id: number): Visit => {
    if (id === visit.id) return visit
    throw new SurveyError('not-found', `There is no visit ${id}.`)
  }
  const held = async (id: number): Promise<never> => {
    found(id)
    throw new SurveyError('no-track', 'This visit holds no walked track.')
  }
  return {
    wishes,
    list: () => [visit],
    change: (id, edit) => {
      visit = { ...found(id), ...(edit as Partial<Visit>) }
      return visit
    },
    moveTrack: (_track, to) => found(to ?? visit.id),
    countTrack: (track) => {
      if (track !== 7) throw new SurveyError('not-found', `There is no track ${track}.`)
    },
    account: held,
    walk: async (id) => Float64Array.of(found(id).id, 1, 2, 3, Number.NaN, 0),
    startChances: (wish) => {
      wishes.push(wish)
      return start()
    },
    chances: () => null,
    chancesKept: () => [],
    chanceTile: async (id) => (id === 'kept' ? Uint8Array.of(137, 80, 78, 71) : null),
    gapsArea: () => {
      throw new SurveyError('nothing-to-export', 'There is no gap of that size.')
    },
    lanesWalked: async ({ plan }) => ({
      plan: plan ?? 1,
      planName: 'Lanes',
      toleranceM: 2,
      errorM: 2,
      spacingM: 1.5,
      plannedM: 0,
      walkedM: 0,
      offM: null,
      lanes: [],
      strayings: [],
      notes: [],
    }),
    missedArea: async () => {
      throw new SurveyError('nothing-to-export', 'All lanes of Lanes were walked; nothing was missed.')
    },
    missedPlan: async ({ name }) => ({ id: 5, name }),
    photographMoment: async (name) => ({ ...madeUpMoment, name }),
    matchPhotographs: ({ photographs, clockS }) => ({
      photographs: photographs.map(() => ({
        state: 'none',
        goals: [],
        reason: 'Nothing fits.',
        at: null,
        zoneS: null,
        offM: null,
        offS: null,
      })),
      notes: [`${clockS} s`],
    }),
  }
}
