export { type FaultCode, faultCodes } from './codes.ts'
export { type FileFault, isSurveyError, SurveyError } from './survey-error.ts'
