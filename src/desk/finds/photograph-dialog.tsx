import { Button } from '@mantine/core'
import { type FormEvent, type KeyboardEvent, type MouseEvent, useId, useState } from 'react'
import type { PhotographView } from '#contract'
import { Dialog, Notice, numberFrom } from '#ui'
import { findsApi, pictureAddress } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { changed } from './finds-data.ts'
import classes from './photograph-dialog.module.css'
import { figureText, type Pixel } from './photograph-figures.ts'

type Mode = 'scale' | 'length' | 'area'

interface PhotographDialogProps {
  readonly photograph: PhotographView
  readonly number: string
  readonly onClose: () => void
}

/** Where a crosshair goes by a key; null for other keys. */
function steppedBy(key: string, [x, y]: Pixel, step: number): Pixel | null {
  if (key === 'ArrowLeft') return [x - step, y]
  if (key === 'ArrowRight') return [x + step, y]
  if (key === 'ArrowUp') return [x, y - step]
  if (key === 'ArrowDown') return [x, y + step]
  return null
}

/** One photograph, large. Two clicks on the ends of the scale bar say how large things are; then lengths and areas are measured on the picture. */
export function PhotographDialog({ photograph, number, onClose }: PhotographDialogProps) {
  const { id, name, role, width, height, mmPerPixel, found } = photograph
  const [mode, setMode] = useState<Mode>(mmPerPixel === null ? 'scale' : 'length')
  const [points, setPoints] = useState<readonly Pixel[]>([])
  const begin = (next: Mode): void => {
    setMode(next)
    setPoints([])
  }
  const remove = async (): Promise<void> => {
    if (!(await changed(() => findsApi.removePhotograph(id)))) return
    tell('good', `Removed ${name} from ${number}.`, { label: 'Undo', run: () => void undoLast() })
    onClose()
  }
  return (
    <Dialog title={`${number}, ${role}`} onClose={onClose} wide>
      <div className={classes.tools}>
        {(['scale', 'length', 'area'] as const).map((one) => (
          <Button
            key={one}
            size="compact-sm"
            variant={mode === one ? 'filled' : 'default'}
            aria-pressed={mode === one}
            disabled={one !== 'scale' && mmPerPixel === null}
            onClick={() => begin(one)}
          >
            {modeNames[one]}
          </Button>
        ))}
        <output className={classes.figure} data-testid="photograph-figure">
          {mode === 'scale' ? '' : figureText(mode, points, photograph)}
        </output>
      </div>
      {mode === 'scale' ? <ScaleForm id={id} points={points} onKept={() => begin('length')} /> : null}
      {found ? null : (
        <Notice tone="warn">The file of {name} is no longer where it was; this is its thumbnail.</Notice>
      )}
      <div
        className={classes.frame}
        style={{ width: `min(100%, calc(62dvh * ${width / height}))`, aspectRatio: `${width} / ${height}` }}
      >
        <img src={pictureAddress(id, found ? 'screen' : 'small')} alt={`${number}, ${role}`} />
        <PointSheet
          width={width}
          height={height}
          points={points}
          closed={mode === 'area'}
          onPoints={setPoints}
        />
      </div>
      <div className={classes.tools}>
        <span className={classes.soft}>
          {name}, {width} × {height}
          {photograph.takenAt === null ? '' : `, taken ${photograph.takenAt.replace('T', ' ')}`}
        </span>
        <Button size="compact-sm" variant="default" color="clay" onClick={() => void remove()}>
          Remove the photograph
        </Button>
      </div>
    </Dialog>
  )
}

const modeNames: Readonly<Record<Mode, string>> = { scale: 'Set the scale', length: 'Length', area: 'Area' }

interface ScaleFormProps {
  readonly id: number
  readonly points: readonly Pixel[]
  readonly onKept: () => void
}

function ScaleForm({ id, points, onKept }: ScaleFormProps) {
  const field = useId()
  const [length, setLength] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const keep = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const [a, b] = points
    const lengthMm = numberFrom(length)
    if (!a || !b || lengthMm === null || !(lengthMm > 0)) {
      setFault('Click both ends of the scale bar and write its length in millimetres.')
      return
    }
    const scaleLine: [number, number, number, number, number] = [...a, ...b, lengthMm]
    if (await changed(() => findsApi.changePhotograph(id, { scaleLine }))) onKept()
  }
  return (
    <form className={classes.tools} onSubmit={(event) => void keep(event)}>
      <label htmlFor={field}>Click both ends of the scale bar. Its length</label>
      <input
        id={field}
        className={classes.input}
        inputMode="decimal"
        value={length}
        onChange={(event) => setLength(event.currentTarget.value)}
      />
      <span>mm</span>
      <Button type="submit" size="compact-sm">
        Keep the scale
      </Button>
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
    </form>
  )
}

interface PointSheetProps {
  readonly width: number
  readonly height: number
  readonly points: readonly Pixel[]
  /** True while an area is measured, which takes any number of points. */
  readonly closed: boolean
  readonly onPoints: (points: readonly Pixel[]) => void
}

/** A clear sheet over the picture on which points are set, by clicks or by keys. */
function PointSheet({ width, height, points, closed, onPoints }: PointSheetProps) {
  const [cross, setCross] = useState<Pixel | null>(null)
  const add = (point: Pixel): void => onPoints(!closed && points.length >= 2 ? [point] : [...points, point])
  const onClick = (event: MouseEvent<SVGSVGElement>): void => {
    const box = event.currentTarget.getBoundingClientRect()
    add([((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height])
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    const at = cross ?? [width / 2, height / 2]
    const step = Math.max(1, Math.round(Math.max(width, height) / (event.shiftKey ? 1000 : 100)))
    const moved = steppedBy(event.key, at, step)
    if (moved) setCross(moved)
    else if (event.key === 'Enter') add(at)
    else if (event.key === 'Backspace') onPoints(points.slice(0, -1))
    else return
    event.preventDefault()
  }
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: points are set on it by keys as by clicks.
      tabIndex={0}
      role="application"
      aria-label="Arrows move the cross, Enter sets a point, Backspace takes it back"
      onClick={onClick}
      onKeyDown={onKeyDown}
    >
      <Marks points={points} closed={closed} cross={cross} size={Math.max(width, height)} />
    </svg>
  )
}

interface MarksProps {
  readonly points: readonly Pixel[]
  readonly closed: boolean
  readonly cross: Pixel | null
  /** The longer side of the picture: marks are as large on any. */
  readonly size: number
}

function Marks({ points, closed, cross, size }: MarksProps) {
  const [thin, reach] = [size / 400, size / 60]
  const line = points.map(([x, y]) => `${x},${y}`).join(' ')
  return (
    <g fill="none" strokeLinejoin="round">
      {(['#000', '#fff'] as const).map((colour, i) => (
        <g key={colour} stroke={colour} strokeWidth={thin * (i === 0 ? 3 : 1.2)}>
          {closed ? <polygon points={line} /> : <polyline points={line} />}
          {points.map(([x, y]) => (
            <circle key={`${x} ${y}`} cx={x} cy={y} r={reach / 2} />
          ))}
          {cross ? (
            <path
              d={`M${cross[0] - reach} ${cross[1]}H${cross[0] + reach}M${cross[0]} ${cross[1] - reach}V${cross[1] + reach}`}
            />
          ) : null}
        </g>
      ))}
    </g>
  )
}
