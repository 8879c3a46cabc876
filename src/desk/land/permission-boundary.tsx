import { Button } from '@mantine/core'
import type { Permission } from '#contract'
import { areaText } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { boundsOfPolygons, goTo } from '../map/map-state.ts'
import { tellFault } from '../state/notices.ts'
import { drawBoundary } from './area-draft.ts'
import { areaOf, type Polygons } from './corners.ts'
import classes from './land-panel.module.css'

async function take(id: number, polygons: Polygons | null): Promise<void> {
  try {
    await deskApi.changePermission(id, { polygons })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

/** A permission's own boundary: drawn, or taken over from an area, which may have come in as a file. */
export function PermissionBoundary({ permission }: { readonly permission: Permission }) {
  const areas = useList('areas')
  const { id, polygons } = permission
  const choices = [
    { value: 'own', text: polygons ? areaText(areaOf(polygons)) : 'None of its own' },
    ...areas.map((area) => ({ value: String(area.id), text: `As ${area.name}` })),
    ...(polygons ? [{ value: 'none', text: 'Take it away' }] : []),
  ]
  const choose = (value: string): void => {
    if (value === 'none') return void take(id, null)
    const area = areas.find((each) => String(each.id) === value)
    if (area) void take(id, area.polygons)
  }
  return (
    <div className={classes.fields}>
      <SelectRow label="Boundary" value="own" choices={choices} onChange={choose} />
      <div className={classes.buttons}>
        <Button
          variant="default"
          size="compact-md"
          onClick={() => {
            drawBoundary(permission)
            if (polygons) goTo(boundsOfPolygons(polygons))
          }}
        >
          {polygons ? 'Change the boundary' : 'Draw the boundary'}
        </Button>
      </div>
    </div>
  )
}
