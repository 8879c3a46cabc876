import { Button } from '@mantine/core'
import { IconFolder, IconPhotoPlus } from '@tabler/icons-react'
import { useRef } from 'react'
import { type PhotographRole, photographRoles } from '#core/finds'
import { countText, Notice, NumberRow, ProgressBar } from '#ui'
import { importFiles } from '../files/import-queue.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { openDialog } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { zoneText } from './camera-clock.ts'
import classes from './matching.module.css'
import {
  attachAll,
  changeMatching,
  forgetPhotographs,
  type GivenPhotograph,
  given,
  matchFault,
  matchNotes,
  matchPhotographs,
  matchSettings,
  roleOfAll,
  stopReading,
  under,
} from './matching-state.ts'
import { PhotographRow } from './photograph-row.tsx'

const hours = Array.from({ length: 27 }, (_, i) => (i - 12) * 3600)

function ChooseFiles() {
  const chooser = useRef<HTMLInputElement>(null)
  const folder = useRef<HTMLInputElement>(null)
  const take = (input: HTMLInputElement): void => {
    const files = [...(input.files ?? [])].filter(
      ({ type, name }) => /^image\//.test(type) || /\.heic$/i.test(name),
    )
    input.value = ''
    if (files.length > 0) void matchPhotographs(files)
  }
  return (
    <div className={classes.buttons}>
      <Button
        variant="default"
        leftSection={<IconPhotoPlus size={18} aria-hidden="true" />}
        onClick={() => chooser.current?.click()}
      >
        Choose photographs
      </Button>
      <Button
        variant="default"
        leftSection={<IconFolder size={18} aria-hidden="true" />}
        onClick={() => folder.current?.click()}
      >
        Choose a folder
      </Button>
      <input
        ref={chooser}
        type="file"
        accept="image/*,.heic"
        multiple
        hidden
        aria-label="Photographs to match"
        data-testid="match-input"
        onChange={({ currentTarget }) => take(currentTarget)}
      />
      <input
        ref={folder}
        type="file"
        hidden
        aria-label="Folder of photographs to match"
        {...{ webkitdirectory: '' }}
        onChange={({ currentTarget }) => take(currentTarget)}
      />
    </div>
  )
}

/** For pictures of the ground that were dropped where photographs of finds are matched. */
function RatherLayers() {
  const take = (): void => {
    const files = given.get().map(({ file }) => file)
    openDialog.set(null)
    forgetPhotographs()
    importFiles(files)
  }
  return (
    <p className={classes.soft}>
      Pictures of the ground from above?{' '}
      <Button size="compact-sm" variant="default" onClick={take}>
        Lay them on the map instead
      </Button>
    </p>
  )
}

/** How the cameras' clocks stand, and how far off is too far. */
function Settings() {
  const { zoneS, clockS, withinM, withinS } = useStore(matchSettings)
  const zones = zoneS === null || hours.includes(zoneS) ? hours : [...hours, zoneS].sort((a, b) => a - b)
  const choices = [
    { value: 'find', text: 'find out' },
    ...zones.map((zone) => ({ value: String(zone), text: zoneText(zone) })),
  ]
  const far = (most: number, unit: string) => (value: number) =>
    value > 0 && value <= most ? null : `Give a value above 0 up to ${most} ${unit}.`
  return (
    <div className={classes.settings}>
      <SelectRow
        label="Zone of a camera that tells none"
        value={zoneS === null ? 'find' : String(zoneS)}
        choices={choices}
        onChange={(value) => void changeMatching({ zoneS: value === 'find' ? null : Number(value) })}
      />
      <NumberRow
        label="Camera clock, add"
        hint="Below 0 for a clock that is fast"
        unit="s"
        value={clockS}
        refuse={(value) => (Math.abs(value) <= 864_000_000 ? null : 'That is more than 27 years.')}
        onChange={(seconds) => void changeMatching({ clockS: seconds ?? 0 })}
      />
      <NumberRow
        label="No farther off"
        unit="m"
        value={withinM}
        refuse={far(1000, 'm')}
        onChange={(metres) => void changeMatching({ withinM: metres ?? withinM })}
      />
      <NumberRow
        label="No longer before or after"
        unit="min"
        value={Math.round(withinS / 6) / 10}
        refuse={far(1440, 'min')}
        onChange={(minutes) => void changeMatching({ withinS: 60 * (minutes ?? withinS / 60) })}
      />
    </div>
  )
}

/** How many go where: 9 to attach, 2 to choose, 1 left out. */
function summaryOf(all: readonly GivenPhotograph[]): string {
  const open = all.filter(({ outcome }) => outcome === null)
  const goes = open.filter(({ goal }) => goal !== null).length
  const choose = open.filter(
    ({ goal, match, chosen }) => goal === null && !chosen && match?.state === 'choose',
  ).length
  const done = all.length - open.length
  const parts = [
    done > 0 ? `${done} done` : null,
    `${goes} to attach`,
    choose > 0 ? `${choose} to choose` : null,
    open.length - goes - choose > 0 ? `${open.length - goes - choose} left out` : null,
  ]
  return `${countText(all.length, 'photograph')}: ${parts.filter((part) => part !== null).join(', ')}.`
}

/** Photographs of a walk before they are attached: each with the find it goes to by time and place, and why. */
export function MatchingDialog() {
  const all = useStore(given)
  const notes = useStore(matchNotes)
  const fault = useStore(matchFault)
  const work = useStore(under)
  const role = useStore(roleOfAll)
  const goes = all.filter(({ goal, outcome }) => goal !== null && outcome === null).length
  return (
    <div className={classes.stack} data-testid="matching-dialog">
      {all.length === 0 ? (
        <p className={classes.soft}>
          Photographs taken on a walk go to the finds by the time they were taken, by where the walker was
          then, and by their own place. Nothing is changed until you attach them.
        </p>
      ) : null}
      <ChooseFiles />
      {all.length > 0 && all.every(({ outcome }) => outcome === null) ? <RatherLayers /> : null}
      {all.length > 0 ? <Settings /> : null}
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      {notes.map((note) => (
        <Notice key={note} tone="plain">
          {note}
        </Notice>
      ))}
      {work ? <ProgressBar label={work.label} done={work.done} onCancel={stopReading} /> : null}
      {all.length > 0 ? (
        <>
          <p role="status" data-testid="match-summary">
            {summaryOf(all)}
          </p>
          <ul className={classes.list}>
            {all.map((one) => (
              <PhotographRow key={one.key} photograph={one} />
            ))}
          </ul>
          <SelectRow<PhotographRole>
            label="What they show"
            value={role}
            choices={photographRoles.map((value) => ({ value, text: value }))}
            onChange={roleOfAll.set}
          />
          {goes > 0 || all.some(({ outcome }) => outcome === null) ? (
            <Button disabled={goes === 0 || work !== null} onClick={() => void attachAll()}>
              {goes === 0 ? 'Nothing to attach' : `Attach ${countText(goes, 'photograph')}`}
            </Button>
          ) : (
            <Button onClick={() => openDialog.set(null)}>Done</Button>
          )}
        </>
      ) : null}
    </div>
  )
}
