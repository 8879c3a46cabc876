import { SurveyError } from '#core/faults'

/** How a recorded track is cleaned. Metres, seconds. */
export interface CleanSettings {
  /** Standard deviation of a position along one axis where the file tells neither accuracy nor hdop; 0 believes every fix. */
  readonly errorM: number
  /** The same for an hdop of 1. */
  readonly hdopM: number
  /**
   * Share of the variance of a position that changes from one second to the next. The rest drifts over minutes: no smoothing
   * takes it away, so it stays in the error of every fix.
   */
  readonly quickShare: number
  /** Strength of the walker's changes of speed: spectral density of a white acceleration, m2/s3. */
  readonly accelerationM2S3: number
  /** Nobody on foot is faster: beyond it a fix is a spike or the track a jump, metres a second. */
  readonly fastestMS: number
  /** Sustained speed above this is a drive, not a walk, metres a second. */
  readonly drivenMS: number
  /** A step lasting longer is a gap in time, across which nothing is smoothed. */
  readonly maxGapS: number
  /** Standing still: for at least this long no farther than that from where one was. */
  readonly stopS: number
  readonly stopM: number
}

/** Our own choices but for `errorM` and `hdopM`, which are common practice for open ground. Said with every result. */
export const defaultCleanSettings: CleanSettings = {
  errorM: 2,
  hdopM: 2,
  quickShare: 0.1,
  accelerationM2S3: 0.1,
  fastestMS: 4,
  drivenMS: 3,
  maxGapS: 60,
  stopS: 20,
  stopM: 1.5,
}

/** Faults: SurveyError('setting-out-of-range') with the setting in words. */
export function checkCleanSettings(settings: CleanSettings): void {
  const refuse = (text: string): never => {
    throw new SurveyError('setting-out-of-range', text)
  }
  const { errorM, hdopM, quickShare } = settings
  if (!(errorM >= 0 && Number.isFinite(errorM)))
    refuse(`The position error must be 0 m or more, not ${errorM} m.`)
  if (!(hdopM >= 0 && Number.isFinite(hdopM)))
    refuse(`The error of an hdop of 1 must be 0 m or more, not ${hdopM} m.`)
  if (!(quickShare >= 0 && quickShare <= 1))
    refuse(`The quick share of the error must lie from 0 to 1, not at ${quickShare}.`)
  const aboveZero = {
    accelerationM2S3: 'strength of changes of speed',
    fastestMS: 'fastest speed on foot',
    drivenMS: 'speed of a drive',
    maxGapS: 'longest step in time',
    stopS: 'shortest stop',
    stopM: 'radius of a stop',
  } as const
  for (const [name, words] of Object.entries(aboveZero)) {
    const value = settings[name as keyof typeof aboveZero]
    if (!(value > 0 && Number.isFinite(value))) refuse(`The ${words} must be above 0, not ${value}.`)
  }
}
