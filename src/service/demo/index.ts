export { demoSurvey } from './demo-survey.ts'
export { survey as demoNames } from './scenario.ts'
