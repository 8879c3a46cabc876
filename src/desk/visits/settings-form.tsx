import type { Settings } from '#contract'
import { NumberRow, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { tellFault } from '../state/notices.ts'

async function change(patch: Partial<Settings>): Promise<void> {
  try {
    await deskApi.changeSettings(patch)
    await workOutCoverIfStale()
  } catch (error) {
    tellFault(error)
    // The field shows what the survey holds again.
    await refreshSurvey()
  }
}

/** A sentence unless the value is above `above` (or at it, if `orEqual`) and not above `most`. */
function limits(
  above: number,
  most: number,
  unit: string,
  orEqual = false,
): (value: number) => string | null {
  return (value) => {
    const enough = orEqual ? value >= above : value > above
    if (enough && value <= most) return null
    return `Give a value ${orEqual ? 'from' : 'above'} ${above} up to ${most.toLocaleString('en-GB')} ${unit}.`
  }
}

interface SettingsProps {
  readonly settings: Settings
}

/** The setting that is changed most. A change works the cover out anew. */
export function SwathRow({ settings }: SettingsProps) {
  return (
    <NumberRow
      label="Swath width"
      hint="Edge to edge of the arc swept"
      unit="m"
      value={settings.swathM}
      refuse={limits(0, 20, 'm')}
      onChange={(swathM) => {
        if (swathM !== null) void change({ swathM })
      }}
    />
  )
}

/** The other settings of the cover. A change works it out anew. */
export function SettingsForm({ settings }: SettingsProps) {
  return (
    <Section title="Settings">
      <NumberRow
        label="Longest step"
        hint="Farther between two fixes is not swept ground"
        unit="m"
        value={settings.maxJumpM}
        refuse={limits(0, 1000, 'm')}
        onChange={(maxJumpM) => {
          if (maxJumpM !== null) void change({ maxJumpM })
        }}
      />
      <NumberRow
        label="Longest pause"
        hint="Longer between two fixes is not swept ground"
        unit="s"
        value={settings.maxJumpS}
        refuse={limits(0, 86_400, 's')}
        onChange={(maxJumpS) => {
          if (maxJumpS !== null) void change({ maxJumpS })
        }}
      />
      <NumberRow
        label="Smallest gap"
        hint="Smaller ones are not listed"
        unit="m²"
        value={settings.minGapM2}
        refuse={limits(0, 1_000_000, 'm²', true)}
        onChange={(minGapM2) => {
          if (minGapM2 !== null) void change({ minGapM2 })
        }}
      />
      <NumberRow
        label="Cell"
        hint="Side of a cell of the cover. Empty: the size of the area chooses"
        unit="m"
        value={settings.cellM}
        mayBeEmpty
        placeholder="auto"
        refuse={limits(0, 50, 'm')}
        onChange={(cellM) => void change({ cellM })}
      />
    </Section>
  )
}
