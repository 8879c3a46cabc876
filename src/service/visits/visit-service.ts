import type {
  AreaView,
  ChancesSummary,
  ChancesView,
  ChancesWish,
  GapsArea,
  LanesWalkedView,
  LanesWalkedWish,
  MissedLanes,
  PhotographMatches,
  PhotographMatchWish,
  PhotographMoment,
  Visit,
  VisitAccount,
  VisitEdit,
} from '#contract'
import type { StartedJob } from '../desk-service.ts'

/** What the desk can ask of the visits of its survey. Faults are SurveyErrors. */
export interface VisitService {
  list(): Visit[]
  /** Faults: 'not-found'. */
  change(id: number, edit: VisitEdit): Visit
  /** Puts a walked track in another visit, in one of its own for null. Faults: 'not-found'. */
  moveTrack(track: number, visit: number | null): Visit
  /** Counts a track as walked ground, or leaves it out: one walk recorded twice. Faults: 'not-found'. */
  countTrack(track: number, walked: boolean): void
  /** What cleaning says of a visit. Faults: 'not-found', 'no-track'. */
  account(id: number): Promise<VisitAccount>
  /** The cleaned fixes of a visit, `walkColumns` numbers each; of more than 50,000 only every second, third … Faults as for `account`. */
  walk(id: number): Promise<Float64Array>
  /** Works the chances out and keeps them in the survey; what has not changed since the last time is not done again. */
  startChances(wish: ChancesWish): StartedJob<void>
  /** Those kept for some visits, or for all; null where none have been worked out. */
  chances(only: readonly number[] | null): ChancesView | null
  /** Figures of every choice of visits whose chances are kept, the newest last. */
  chancesKept(): ChancesSummary[]
  /** One 256 x 256 PNG of the chances, as contract/visit-tiles.ts says; null outside the frame or for chances no longer kept. */
  chanceTile(id: string, level: number, column: number, row: number): Promise<Uint8Array | null>
  /** Makes the gaps below the chance a search area. Faults: 'nothing-to-export' where there are none. */
  gapsArea(area: GapsArea): AreaView
  /** Which lanes of a plan were walked; nothing is changed. Faults: 'not-found', 'no-track', 'no-area' where no plan is kept. */
  lanesWalked(wish: LanesWalkedWish): Promise<LanesWalkedView>
  /** Makes the ground of the lanes that were missed a search area. Faults: also 'nothing-to-export' where none was. */
  missedArea(missed: MissedLanes): Promise<AreaView>
  /** Keeps the lanes that were missed as a plan: its number and name. Faults as for `missedArea`. */
  missedPlan(missed: MissedLanes): Promise<{ readonly id: number; readonly name: string }>
  /** What the picture at `path`, or its first part, says of when and where it was taken. Faults: those of `readExif`. */
  photographMoment(name: string, path: string): Promise<PhotographMoment>
  /** To which finds photographs go, by time and place; nothing is changed. */
  matchPhotographs(wish: PhotographMatchWish): PhotographMatches
}
