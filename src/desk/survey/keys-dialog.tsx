import { KeyCap } from '#ui'
import { type DeskKey, deskKeys, mapKeys } from '../page/desk-keys.ts'
import { singleKeys } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './dialogs.module.css'

function KeyTable({ keys }: { readonly keys: readonly DeskKey[] }) {
  return (
    <dl className={classes.keys}>
      {keys.map(({ keys: caps, does }) => (
        <div key={does} style={{ display: 'contents' }}>
          <dt>
            {caps.map((cap) => (
              <KeyCap key={cap}>{cap}</KeyCap>
            ))}
          </dt>
          <dd>{does}</dd>
        </div>
      ))}
    </dl>
  )
}

/** Every key of the desk, and the switch that turns the single ones off. */
export function KeysDialog() {
  const on = useStore(singleKeys)
  return (
    <div className={classes.stack}>
      <label className={classes.switch}>
        <input
          type="checkbox"
          checked={on}
          onChange={(event) => singleKeys.set(event.currentTarget.checked)}
        />
        Use single keys as shortcuts
      </label>
      <h3 className={classes.heading}>Anywhere</h3>
      <KeyTable keys={deskKeys} />
      <h3 className={classes.heading}>On the map</h3>
      <KeyTable keys={mapKeys} />
    </div>
  )
}
