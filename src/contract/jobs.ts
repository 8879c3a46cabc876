import * as z from 'zod'

/**
 * Long work. POST /api/cover, POST /api/visits/chances, POST /api/import and POST /api/marks/search start a job, and layers do when something of them has to be made ready; GET /api/events (server-sent events) tells of it by
 * `event: job`; DELETE /api/jobs/:id cancels. A change of the survey, whoever made it, is `event: survey` with the revision.
 */
export const jobShape = z.object({
  id: z.string(),
  kind: z.enum(['import', 'cover', 'layer', 'marks', 'chances']),
  /** What it is doing now, in words. */
  label: z.string(),
  /** 0 to 1. */
  done: z.number(),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  error: z.object({ code: z.string(), text: z.string() }).nullable(),
})
export type Job = z.infer<typeof jobShape>

export const surveyEventShape = z.object({ revision: z.number().int() })
export const jobStartedShape = z.object({ job: z.string() })

/** Called by long sums now and then: share done, 0 to 1, and what is being done. */
export type Progress = (done: number, label: string) => void
