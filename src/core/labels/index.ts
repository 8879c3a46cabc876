export { type LabelCode, labelCodeText, readLabelCode } from './label-code.ts'
export { type LabelPlace, type LabelStock, labelPlaces, labelStocks, rollStock } from './label-stock.ts'
