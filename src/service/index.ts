export type { DeskEvent, DeskService, MadeFile, StartedJob } from './desk-service.ts'
