import type * as z from 'zod'
import { BadRequest } from './error-reply.ts'

/** The value if it has the shape; else BadRequest with one sentence that names each wrong part and what is wrong with it. */
export function parse<Shape extends z.ZodType>(shape: Shape, value: unknown, code?: string): z.infer<Shape> {
  const result = shape.safeParse(value)
  if (result.success) return result.data
  const wrong = result.error.issues.map(({ path, message }) =>
    path.length > 0 ? `${path.join('.')}: ${message}` : message,
  )
  throw new BadRequest(`The request was not understood: ${wrong.join('; ')}.`, code)
}
