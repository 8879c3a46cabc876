import { ActionIcon } from '@mantine/core'
import { IconContrast2 } from '@tabler/icons-react'
import { type LookChoice, useLook } from '#ui'
import classes from './look-menu.module.css'

const choices: readonly { readonly choice: LookChoice; readonly label: string }[] = [
  { choice: 'system', label: 'As the system' },
  { choice: 'light', label: 'Light' },
  { choice: 'dark', label: 'Dark' },
  { choice: 'high-contrast', label: 'High contrast' },
]

const menuId = 'look-menu'

/** Light, dark, high contrast, or as the system wishes. */
export function LookMenu() {
  const { choice: now, choose } = useLook()
  return (
    <>
      <ActionIcon aria-label="Look" title="Light, dark or high contrast" size={40} popoverTarget={menuId}>
        <IconContrast2 size={20} aria-hidden="true" />
      </ActionIcon>
      <div id={menuId} className={classes.menu} popover="auto" role="radiogroup" aria-label="Look">
        {choices.map(({ choice, label }) => (
          <label key={choice} className={classes.choice}>
            <input
              type="radio"
              name="look"
              value={choice}
              checked={choice === now}
              onChange={() => choose(choice)}
            />
            {label}
          </label>
        ))}
      </div>
    </>
  )
}
