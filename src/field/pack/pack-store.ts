import { type DBSchema, openDB } from 'idb'

interface PackSchema extends DBSchema {
  packs: { key: string; value: { readonly name: string; readonly bytes: Uint8Array } }
}

/** The one pack that is out: kept as it came, in a database of its own, so that nothing of it can touch the walks. */
const key = 'out'

async function database() {
  return openDB<PackSchema>('lynchet-field-pack', 1, {
    upgrade(made) {
      made.createObjectStore('packs')
    },
  })
}

export interface KeptPack {
  readonly name: string
  readonly bytes: Uint8Array
}

/** Null while no pack is out. Rejects where the browser keeps nothing. */
export async function keptPack(): Promise<KeptPack | null> {
  const db = await database()
  try {
    return (await db.get('packs', key)) ?? null
  } finally {
    db.close()
  }
}

/** Keeps a pack in the place of the last one; null forgets it. */
export async function keepPack(pack: KeptPack | null): Promise<void> {
  const db = await database()
  try {
    if (pack) await db.put('packs', { name: pack.name, bytes: pack.bytes }, key)
    else await db.delete('packs', key)
  } finally {
    db.close()
  }
}
