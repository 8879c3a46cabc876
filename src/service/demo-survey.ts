import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { planarGrid } from '#core/geodesy'
import { createSurveyFile, type StoredLayer, type SurveyFile } from '#store'
import { ostn15, type WorkOptions } from '#work'
import { coverOfSurvey } from './cover-survey.ts'
import { type DemoRaster, demoFiles, demoNames, demoRastersInThreads, demoVisits } from './demo/index.ts'
import { addDemoLand } from './demo-land.ts'
import { importFile } from './import-file.ts'
import { layerFile, layersFolder } from './layers/layer-files.ts'
import { surroundings } from './surroundings.ts'

/** One seed for everybody, so that the demo of the guide is the demo on the screen. */
const seed = 1

/**
 * Writes the demo survey as a user would have made it: ordinary files are imported one after another and the cover is worked
 * out. Faults: SurveyError 'survey-exists', 'cannot-write'; nothing is left half-written.
 */
export async function writeDemoSurvey(
  surveyPath: string,
  options: WorkOptions = {},
): Promise<{ written: string }> {
  const ended = new AbortController()
  const signal = options.signal ? AbortSignal.any([options.signal, ended.signal]) : ended.signal
  const survey = createSurveyFile(
    surveyPath,
    { code: demoNames.code, title: demoNames.title, demo: true },
    surroundings,
  )
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-demo-'))
  try {
    const rasters = demoRastersInThreads(seed, signal)
    const files = demoFiles(seed, planarGrid(27_700, ostn15()))
    for (const [i, { name, bytes }] of files.entries()) {
      const file = path.join(folder, name)
      writeFileSync(file, bytes)
      const progress = (done: number, label: string): void =>
        options.progress?.((0.5 * (i + done)) / files.length, label)
      await importFile(survey, name, file, { ...options, progress })
    }
    for (const { id, day } of survey.visits()) {
      const facts = demoVisits.get(day ?? '')
      if (facts) survey.changeVisit(id, facts)
    }
    for (const [i, raster] of rasters.entries()) {
      const progress = (done: number, label: string): void =>
        options.progress?.(0.5 + (0.5 * (i + done)) / rasters.length, label)
      await addRaster(survey, await raster, folder, { ...options, progress })
      // While the pictures are still being worked out.
      if (i === 0) {
        await addDemoLand(survey)
        await coverOfSurvey(survey, { signal })
      }
    }
    survey.close()
    return { written: surveyPath }
  } catch (error) {
    survey.close()
    for (const end of ['', '-wal', '-shm']) rmSync(`${surveyPath}${end}`, { force: true })
    throw error
  } finally {
    // Threads that nobody waits for any more.
    ended.abort()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Brings one raster in by the usual door and keeps it inside, so that the demo is one file that can be carried anywhere. */
async function addRaster(
  survey: SurveyFile,
  { name, bytes, title, kind, takenOn }: DemoRaster,
  folder: string,
  options: WorkOptions,
): Promise<void> {
  const file = path.join(folder, name)
  writeFileSync(file, bytes)
  let added: StoredLayer | null = null
  const { sha256, faults } = await importFile(survey, name, file, {
    ...options,
    onLayer: (layer) => {
      added = layer
    },
  })
  const layer = added as StoredLayer | null
  if (!layer) throw new Error(`the demo's ${name} did not become a layer: ${faults[0]?.text}`)
  const kept = survey.keepLayerFile(layer.id, { name, kind, bytes, sha256 })
  // Where it would lie were it taken out, and not where it was written for a moment.
  const place = path.join(layersFolder(survey.path), name)
  const files = kept.files.map((each) => ({ ...each, ...layerFile(survey.path, place, each) }))
  survey.changeLayer(layer.id, { name: title, takenOn, files }, `naming of ${title}`)
}
