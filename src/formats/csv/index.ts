export type { ColumnMeaning } from './column-plan.ts'
export { type CsvContent, type CsvOptions, type CsvTable, readCsv } from './read-csv.ts'
export { type PlanarColumns, writeCsv } from './write-csv.ts'
