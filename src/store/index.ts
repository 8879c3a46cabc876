export { backupName, rotateBackups } from './backup.ts'
export { isFindNumber } from './find-numbers.ts'
export { createSurveyFile, openSurveyFile } from './open-survey-file.ts'
export type * from './survey-file.ts'
