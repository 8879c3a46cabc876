import { useEffect, useId, useState } from 'react'
import { isSurveyError } from '#core/faults'
import { type PackPicture, readWalkPack, type WalkPack } from '#formats/walk-pack'
import { lengthText } from '#ui'
import { metresTo, type PackFrame, packFrame, pathOf } from '../pack/pack-plan.ts'
import { keepPack, keptPack } from '../pack/pack-store.ts'
import type { RecorderState } from '../walk/recorder.ts'
import { GroundPicture, PictureChoice } from './pack-picture.tsx'
import classes from './pack-view.module.css'

type Place = Pick<NonNullable<RecorderState['lastFix']>, 'lon' | 'lat'>

/** The pack that is out, from this device; and a way to take another out. */
function usePack() {
  const [pack, setPack] = useState<WalkPack | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  useEffect(() => {
    keptPack()
      .then((kept) => {
        if (kept) setPack(readWalkPack(kept.bytes, kept.name))
      })
      .catch(() => setFault('The walk pack on this device cannot be read; choose its file again.'))
  }, [])
  const take = async (file: File): Promise<void> => {
    try {
      const bytes = new Uint8Array(await file.arrayBuffer())
      const read = readWalkPack(bytes, file.name)
      setPack(read)
      setFault(null)
      await keepPack({ name: file.name, bytes })
    } catch (error) {
      setFault(
        isSurveyError(error)
          ? error.message
          : 'The pack is shown, but this device cannot keep it: it goes with the page.',
      )
    }
  }
  const drop = (): void => {
    setPack(null)
    setFault(null)
    void keepPack(null).catch(() => {})
  }
  return { pack, fault, take, drop }
}

interface PackMapProps {
  readonly pack: WalkPack
  readonly frame: PackFrame
  readonly at: Place | null
  readonly picture: PackPicture | null
}

function PackMap({ pack, frame, at, picture }: PackMapProps) {
  const [, , width, height] = frame.box
  const peg = Math.max(width, height) / 45
  const words = `The ground of ${pack.manifest.plan}: ${pack.lanes.length} lanes and ${pack.targets.length} targets, north up${at ? ', with where you are' : ''}.`
  return (
    <svg className={classes.map} viewBox={frame.box.join(' ')} role="img" aria-label={words}>
      <GroundPicture picture={picture} frame={frame} />
      {pack.lanes.map(({ name, xy }) => (
        <path key={name} className={classes.lane} d={pathOf(xy, frame)} />
      ))}
      {[...pack.area, ...pack.constraints.areas].map(({ name, polygons }, i) => (
        <path
          key={name}
          className={i < pack.area.length ? classes.area : classes.avoid}
          d={polygons.map(({ rings }) => rings.map((ring) => `${pathOf(ring, frame)}Z`).join('')).join('')}
        />
      ))}
      {pack.targets.map(({ name, x, y }) => (
        <path
          key={name}
          className={classes.target}
          d={`M${frame.east(x)} ${frame.south(y)}l${-peg} ${-1.6 * peg}h${2 * peg}Z`}
        />
      ))}
      {at ? (
        <circle className={classes.here} cx={frame.east(at.lon)} cy={frame.south(at.lat)} r={peg * 0.8} />
      ) : null}
    </svg>
  )
}

function TargetRows({ pack, frame, at }: { pack: WalkPack; frame: PackFrame; at: Place | null }) {
  return (
    <ul className={classes.targets}>
      {pack.targets.map((target) => (
        <li key={target.name}>
          <span>{target.name}</span>
          <span>{at ? lengthText(metresTo(frame, at, target)) : ''}</span>
        </li>
      ))}
    </ul>
  )
}

/** The walk pack: lanes, targets and what to mind, with the last position while a walk is recorded. */
export function PackView({ state }: { readonly state: RecorderState }) {
  const { pack, fault, take, drop } = usePack()
  const id = useId()
  const frame = pack && packFrame(pack)
  const at = state.lastFix
  const [shown, setShown] = useState<number | null>(0)
  return (
    <section aria-label="Walk pack" className={classes.pack}>
      {pack && frame ? (
        <>
          <h2 className={classes.title}>{pack.manifest.plan}</h2>
          <PackMap
            pack={pack}
            frame={frame}
            at={at}
            picture={(shown !== null && pack.pictures[shown]) || null}
          />
          <PictureChoice pack={pack} shown={shown} choose={setShown} />
          <TargetRows pack={pack} frame={frame} at={at} />
          <details>
            <summary>To be minded</summary>
            <ul>
              {pack.cautions.map((caution) => (
                <li key={caution}>{caution}</li>
              ))}
            </ul>
          </details>
          <button type="button" className={classes.button} onClick={drop}>
            Put the pack away
          </button>
        </>
      ) : (
        <>
          <label className={classes.label} htmlFor={id}>
            Take a walk pack out: the file that the desk wrote
          </label>
          <input
            id={id}
            className={classes.file}
            type="file"
            accept=".zip,application/zip"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? []
              if (file) void take(file)
            }}
          />
        </>
      )}
      {fault ? (
        <p role="alert" className={classes.fault}>
          {fault}
        </p>
      ) : null}
    </section>
  )
}
