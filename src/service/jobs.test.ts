import { expect, test } from 'vitest'
import type { Job } from '#contract'
import { SurveyError } from '#core/faults'
import { Jobs } from './jobs.ts'

function watched() {
  const told: Job[] = []
  let next = 0
  return {
    told,
    jobs: new Jobs(
      () => `job-${next++}`,
      (job) => told.push(job),
    ),
  }
}

test('a job tells of its start, its steps and its end', async () => {
  const { told, jobs } = watched()
  const { done } = jobs.start('cover', 'starting', async ({ progress }) => {
    progress(0.5, 'half way')
    return 42
  })
  expect(await done).toBe(42)
  expect(told.map(({ state, done: share, label }) => [state, share, label])).toEqual([
    ['running', 0, 'starting'],
    ['running', 0.5, 'half way'],
    ['done', 1, 'half way'],
  ])
})

test('progress never runs backwards', async () => {
  const { told, jobs } = watched()
  await jobs.start('cover', '', async ({ progress }) => {
    progress(0.7, 'a')
    progress(0.2, 'b')
  }).done
  expect(told.map(({ done }) => done)).toEqual([0, 0.7, 0.7, 1])
})

test('a cancel reaches the work and is told as cancelled, not failed', async () => {
  const { told, jobs } = watched()
  const { job, done } = jobs.start(
    'cover',
    '',
    ({ signal }) =>
      new Promise((_, reject) => {
        signal.addEventListener('abort', () => reject(new SurveyError('cancelled', 'Cancelled.')))
      }),
  )
  expect(jobs.cancel(job)).toBe(true)
  await expect(done).rejects.toThrow('Cancelled.')
  expect(told.at(-1)).toMatchObject({ state: 'cancelled' })
  expect(jobs.cancel(job)).toBe(false)
})

test('a fault is told with its code and sentence', async () => {
  const { told, jobs } = watched()
  const { done } = jobs.start('import', '', async () => {
    throw new SurveyError('empty-file', 'walk.gpx is empty.')
  })
  await expect(done).rejects.toThrow()
  expect(told.at(-1)).toMatchObject({
    state: 'failed',
    error: { code: 'empty-file', text: 'walk.gpx is empty.' },
  })
})

test('ended jobs are forgotten in the end', async () => {
  const { jobs } = watched()
  for (let i = 0; i < 30; i++) await jobs.start('cover', '', async () => i).done
  expect(jobs.list()).toHaveLength(20)
})
