import * as z from 'zod'

export const idShape = z.object({ id: z.coerce.number().int().nonnegative() })
