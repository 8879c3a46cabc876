export { FaultList, quoted } from './fault-list.ts'
