import '@mantine/core/styles/baseline.css'
import '@mantine/core/styles/default-css-variables.css'
import '@mantine/core/styles/global.css'
import '@mantine/core/styles/UnstyledButton.css'
import '@mantine/core/styles/Button.css'
import '@mantine/core/styles/ActionIcon.css'
import '@mantine/core/styles/Loader.css'
import '@mantine/core/styles/Input.css'
import '@mantine/core/styles/InlineInput.css'
import '@mantine/core/styles/Checkbox.css'
import '../ui/look/palette.css'
import '../ui/look/base.css'
import { QueryClientProvider } from '@tanstack/react-query'
import { lazy, StrictMode, Suspense } from 'react'
import { createRoot } from 'react-dom/client'
import { LookProvider } from '#ui'
import { queryClient } from './api/queries.ts'
import { DeskPage } from './page/desk-page.tsx'
import { listenToServer } from './state/connection.ts'

const LooksPage = lazy(() =>
  import('./looks/looks-page.tsx').then(({ LooksPage: component }) => ({ default: component })),
)

const root = document.getElementById('root')
if (!root) throw new TypeError('the page has no element #root')

const showsLooks = location.pathname.startsWith('/looks')
if (!showsLooks) listenToServer()

createRoot(root).render(
  <StrictMode>
    <LookProvider>
      {showsLooks ? (
        <Suspense>
          <LooksPage />
        </Suspense>
      ) : (
        <QueryClientProvider client={queryClient}>
          <DeskPage />
        </QueryClientProvider>
      )}
    </LookProvider>
  </StrictMode>,
)
