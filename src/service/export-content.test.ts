import { expect, test } from 'vitest'
import { writeGpx } from '#formats/gpx'
import { writeKml } from '#formats/kml'
import { findspot, newSurvey, noContent, original } from '../../test/store/sample.ts'
import { exportContent } from './export-content.ts'

test('finds for a handheld or a globe carry number, what, material, period and years, how sure they are, and their notes', () => {
  const survey = newSurvey()
  survey.addFile(original('a.csv'), { ...noContent, gridEpsg: 27700, findspots: [findspot('A')] })
  const [find] = survey.catalogue.all()
  const patch = { fromYear: -50, toYear: 43, certainty: 'probable', notes: 'pin gone' } as const
  survey.catalogue.change([{ id: find!.id, patch }], 'dating')
  const gpx = writeGpx(exportContent(survey, 'finds', 'gpx'))
  expect(gpx).toMatch(
    /<cmt>NST-2023-001, buckle, copper alloy, [^<]*50 BC – AD 43, 4\.25 g, 0\.12 m deep<\/cmt>/,
  )
  expect(gpx).toContain('<desc>pin gone</desc>')
  expect(gpx).toContain('<lynchet:value name="certainty">probable</lynchet:value>')
  const kml = writeKml(exportContent(survey, 'finds', 'kml'))
  for (const value of ['-50', '43', 'probable', 'buckle']) expect(kml).toContain(`<value>${value}</value>`)
})
