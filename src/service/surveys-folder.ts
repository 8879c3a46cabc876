import { mkdirSync, readdirSync, statSync } from 'node:fs'
import path from 'node:path'
import { SurveyError } from '#core/faults'

/** The folder that holds the user's surveys; the desk opens files of this folder by name and no others. */
export class SurveysFolder {
  readonly path: string

  constructor(folder: string) {
    this.path = path.resolve(folder)
    try {
      mkdirSync(this.path, { recursive: true })
    } catch (cause) {
      throw new SurveyError(
        'cannot-write',
        `The folder of surveys ${this.path} cannot be made; choose another with --home.`,
        { cause },
      )
    }
  }

  /** File names of the surveys here, the last changed first. */
  names(): { readonly file: string; readonly changedAt: Date }[] {
    return readdirSync(this.path, { withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith('.gpkg'))
      .map(({ name }) => ({ file: name, changedAt: statSync(path.join(this.path, name)).mtime }))
      .sort((a, b) => b.changedAt.getTime() - a.changedAt.getTime())
  }

  /** Full path of a survey named by a page. Faults: not-found for anything that is not a name in this folder. */
  pathOf(file: string): string {
    if (!this.names().some((entry) => entry.file === file)) {
      throw new SurveyError('not-found', `There is no survey named ${JSON.stringify(file)} in ${this.path}.`)
    }
    return path.join(this.path, file)
  }

  /** A free file name made of a title: 'Long Field, 2026' becomes long-field-2026.gpkg. */
  freeNameFor(title: string): string {
    const stem =
      title
        .normalize('NFKD')
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '')
        .slice(0, 60) || 'survey'
    const taken = new Set(readdirSync(this.path))
    for (let n = 1; ; n++) {
      const name = n === 1 ? `${stem}.gpkg` : `${stem}-${n}.gpkg`
      if (!taken.has(name)) return name
    }
  }
}
