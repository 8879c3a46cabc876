export { ostn15 } from './shift-grid.ts'
