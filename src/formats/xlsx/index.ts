export { readXlsx, type XlsxOptions, type XlsxTable } from './read-xlsx.ts'
export { writeXlsx, type XlsxCell } from './write-xlsx.ts'
