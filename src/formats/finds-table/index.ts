export {
  type DryRunOptions,
  dryRunFinds,
  type FieldChange,
  type FindsDryRun,
  type FindToAdd,
  type FindToChange,
  type KnownFind,
  type RowConflict,
  type RowPlace,
  type TableRows,
} from './dry-run.ts'
export { type ColumnUse, type FindColumn, guessColumns, headingsKey, ownHeadings } from './find-columns.ts'
export { findsCsv, findsXlsx, type PlaceOf, type WrittenPlace } from './write-finds.ts'
