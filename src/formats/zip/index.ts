export { gunzipped } from './gunzipped.ts'
export { escapes, type ZipEntry, zipEntries, zipEntryBytes } from './zip-entries.ts'
