import * as z from 'zod'
import { polygonsShape } from './survey.ts'

export const noteKinds = ['crop', 'ground', 'access'] as const
export type NoteKind = (typeof noteKinds)[number]
export const permissionStates = ['open', 'not-yet', 'ended'] as const
export type PermissionState = (typeof permissionStates)[number]

const day = z.iso.date()
const text = z.string().trim().max(4000).nullable()
const permissionName = z.string().trim().min(1).max(200)

export const groundNoteShape = z.object({
  id: z.number().int(),
  kind: z.enum(noteKinds),
  notedOn: z.string(),
  note: z.string(),
})
export type GroundNote = z.infer<typeof groundNoteShape>

/** Leave to search. Days are texts, 2026-11-25; holder and contact are private and leave in no export. */
export const permissionShape = z.object({
  id: z.number().int(),
  name: z.string(),
  holder: z.string().nullable(),
  contact: z.string().nullable(),
  areaId: z.number().int().nullable(),
  /** A boundary of its own, in the survey's grid. */
  polygons: polygonsShape.nullable(),
  startsOn: z.string().nullable(),
  endsOn: z.string().nullable(),
  terms: z.string().nullable(),
  findsShare: z.string().nullable(),
  access: z.string().nullable(),
  agreement: z
    .object({ name: z.string(), sha256: z.string(), size: z.number().int(), inside: z.boolean() })
    .nullable(),
  /** The latest day first. */
  notes: z.array(groundNoteShape),
  /** As of today, and that in a sentence. */
  state: z.enum(permissionStates),
  stateText: z.string(),
})
export type Permission = z.infer<typeof permissionShape>

/** POST /api/permissions */
export const newPermissionShape = z.strictObject({
  name: permissionName,
  holder: text.default(null),
  contact: text.default(null),
  areaId: z.number().int().nullable().default(null),
  polygons: polygonsShape.nullable().default(null),
  startsOn: day.nullable().default(null),
  endsOn: day.nullable().default(null),
  terms: text.default(null),
  findsShare: text.default(null),
  access: text.default(null),
})
export type NewPermission = z.input<typeof newPermissionShape>

/** PATCH /api/permissions/:id: any of these. */
export const permissionEditShape = z.strictObject({
  name: permissionName.exactOptional(),
  holder: text.exactOptional(),
  contact: text.exactOptional(),
  areaId: z.number().int().nullable().exactOptional(),
  polygons: polygonsShape.nullable().exactOptional(),
  startsOn: day.nullable().exactOptional(),
  endsOn: day.nullable().exactOptional(),
  terms: text.exactOptional(),
  findsShare: text.exactOptional(),
  access: text.exactOptional(),
})
export type PermissionEdit = z.infer<typeof permissionEditShape>

/** POST /api/permissions/:id/notes */
export const newGroundNoteShape = z.strictObject({
  kind: z.enum(noteKinds),
  notedOn: day,
  note: z.string().trim().min(1).max(2000),
})
export type NewGroundNote = z.infer<typeof newGroundNoteShape>

/** The most that a buffer can be, metres. */
export const mostBufferM = 10_000
const bufferM = z.number().gte(0).lte(mostBufferM)

/** One thing to be left alone, in the survey's grid: rings of ground, a line, or a place. */
export const constraintShape = z.object({
  id: z.number().int(),
  name: z.string(),
  polygons: z.array(z.array(z.array(z.tuple([z.number(), z.number()])))),
  line: z.array(z.tuple([z.number(), z.number()])).nullable(),
  point: z.tuple([z.number(), z.number()]).nullable(),
})
export type Constraint = z.infer<typeof constraintShape>

/** The constraints that came in one file. `id` is the original's; 0 for those that another program put in. */
export const constraintSetShape = z.object({
  id: z.number().int(),
  source: z.string(),
  kind: z.string(),
  bufferM: z.number(),
  constraints: z.array(constraintShape),
})
export type ConstraintSet = z.infer<typeof constraintSetShape>

/** POST /api/constraints?name=…&kind=…&bufferM=… : what the file brought. */
export const constraintsAddedShape = z.object({
  added: z.number().int(),
  alreadyThere: z.boolean(),
  faults: z.array(z.object({ line: z.number().int().nullable(), code: z.string(), text: z.string() })),
})
export type ConstraintsAdded = z.infer<typeof constraintsAddedShape>

/** PATCH /api/constraints/:id: changes all of one file. */
export const constraintEditShape = z.strictObject({
  kind: z.string().trim().max(200).exactOptional(),
  bufferM: bufferM.exactOptional(),
})
export type ConstraintEdit = z.infer<typeof constraintEditShape>
export const constraintWishesShape = z.object({
  kind: z.string().trim().max(200).default(''),
  bufferM: z.coerce.number().pipe(bufferM).default(0),
})
export type ConstraintWishes = z.infer<typeof constraintWishesShape>

/** Something planned that comes too near to something to be left alone. */
export const landClashShape = z.object({
  what: z.enum(['area', 'target', 'lanes']),
  /** Of the area or target; null for lanes. */
  id: z.number().int().nullable(),
  text: z.string(),
  distanceM: z.number(),
  /** Where it comes nearest. */
  easting: z.number(),
  northing: z.number(),
})
export type LandClash = z.infer<typeof landClashShape>
