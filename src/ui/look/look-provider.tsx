import { MantineProvider } from '@mantine/core'
import { createContext, type ReactNode, use, useEffect, useLayoutEffect, useMemo, useState } from 'react'
import { keepLookChoice, keptLookChoice, type LookChoice, lookFor, onSystemLook } from './look-choice.ts'
import type { Look } from './roles.ts'
import { theme } from './theme.ts'

interface LookState {
  readonly choice: LookChoice
  readonly look: Look
  readonly choose: (choice: LookChoice) => void
}

const LookContext = createContext<LookState | null>(null)

/** The look now shown and the way to choose another. */
export function useLook(): LookState {
  const state = use(LookContext)
  if (!state) throw new TypeError('useLook needs a LookProvider above it')
  return state
}

/** Sets the look on the root element and Mantine's scheme with it. Goes once around each app. */
export function LookProvider({ children }: { readonly children: ReactNode }) {
  const [choice, setChoice] = useState(keptLookChoice)
  const [look, setLook] = useState(() => lookFor(choice))

  useEffect(() => onSystemLook(() => setLook(lookFor(choice))), [choice])
  useLayoutEffect(() => {
    document.documentElement.dataset.look = look
  }, [look])

  const state = useMemo<LookState>(
    () => ({
      choice,
      look,
      choose: (next) => {
        keepLookChoice(next)
        setChoice(next)
        setLook(lookFor(next))
      },
    }),
    [choice, look],
  )
  return (
    <LookContext value={state}>
      <MantineProvider theme={theme} forceColorScheme={look === 'dark' ? 'dark' : 'light'}>
        {children}
      </MantineProvider>
    </LookContext>
  )
}
