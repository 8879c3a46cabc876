import { Button } from '@mantine/core'
import { useEffect } from 'react'
import { looks, useLook } from '#ui'
import { ColourPart } from './colour-part.tsx'
import classes from './looks-page.module.css'
import { MapPart, PlotPart } from './map-part.tsx'
import { FormPart, PanelPart, TypePart } from './part-samples.tsx'

const names = { light: 'Light', dark: 'Dark', 'high-contrast': 'High contrast' } as const

/** Every part of the look on one page: what later stages are built from, in each of the three looks. */
export function LooksPage() {
  const { look, choose } = useLook()
  useEffect(() => {
    document.title = 'Looks · Lynchet'
  }, [])
  return (
    <main className={classes.page}>
      <header className={classes.head}>
        <h1 className={classes.title}>The looks of Lynchet</h1>
        {looks.map((name) => (
          <Button
            key={name}
            variant={look === name ? 'filled' : 'default'}
            aria-pressed={look === name}
            onClick={() => choose(name)}
          >
            {names[name]}
          </Button>
        ))}
        <Button component="a" href="/" variant="subtle">
          To the desk
        </Button>
      </header>
      <TypePart />
      <PanelPart />
      <FormPart />
      <MapPart />
      <PlotPart />
      <ColourPart />
    </main>
  )
}
