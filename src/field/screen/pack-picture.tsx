import { useEffect, useId, useState } from 'react'
import type { PackPicture, WalkPack } from '#formats/walk-pack'
import { type PackFrame, pictureMatrix } from '../pack/pack-plan.ts'
import classes from './pack-view.module.css'

/** An address of a picture's bytes while it is shown. */
function useAddress(picture: PackPicture | null): string | null {
  const [address, setAddress] = useState<string | null>(null)
  useEffect(() => {
    if (!picture) return setAddress(null)
    const made = URL.createObjectURL(new Blob([Uint8Array.from(picture.bytes)], { type: picture.mediaType }))
    setAddress(made)
    return () => URL.revokeObjectURL(made)
  }, [picture])
  return address
}

/** A picture of the ground, under all else on the plan. */
export function GroundPicture({
  picture,
  frame,
}: {
  readonly picture: PackPicture | null
  readonly frame: PackFrame
}) {
  const address = useAddress(picture)
  if (!picture || !address) return null
  return (
    <image
      className={classes.picture}
      href={address}
      width={picture.columns}
      height={picture.rows}
      transform={`matrix(${pictureMatrix(picture, frame).join(' ')})`}
      preserveAspectRatio="none"
    />
  )
}

/** Chooses which of a pack's pictures lies under the plan; nothing where it has none. */
export function PictureChoice({
  pack,
  shown,
  choose,
}: {
  readonly pack: WalkPack
  readonly shown: number | null
  readonly choose: (picture: number | null) => void
}) {
  const id = useId()
  if (pack.pictures.length === 0) return null
  const credit = shown === null ? null : pack.pictures[shown]?.attribution
  return (
    <div className={classes.choice}>
      <label htmlFor={id}>Picture of the ground</label>
      <select
        id={id}
        value={shown ?? ''}
        onChange={(event) => {
          const { value } = event.currentTarget
          choose(value === '' ? null : Number(value))
        }}
      >
        <option value="">None</option>
        {pack.pictures.map(({ file, name, takenOn }, i) => (
          <option key={file} value={i}>
            {takenOn ? `${name} (${takenOn})` : name}
          </option>
        ))}
      </select>
      {credit ? <small>{credit}</small> : null}
    </div>
  )
}
