export type * from './survey-file.ts'
