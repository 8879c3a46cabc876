/**
 * Writes scenes for other programs to look at: `node bench/marks-scenes.ts FOLDER KIND SEED…`. Of each: the raster as
 * little-endian float32, row by row from the top, and the rings as JSON.
 */
import { mkdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { makeScene, type SceneKind } from './scenes/scene.ts'

const [folder = '.', kind = 'plain', ...seeds] = process.argv.slice(2)
mkdirSync(folder, { recursive: true })
for (const seed of seeds.map(Number)) {
  const { raster, rings } = makeScene(kind as SceneKind, seed)
  const name = path.join(folder, `${kind}-${seed}`)
  writeFileSync(`${name}.f32`, raster.values)
  writeFileSync(`${name}.json`, JSON.stringify({ side: raster.columns, rings }))
}
