export { escapeXml, xmlText } from './escape-xml.ts'
export { localName, readXml, type ShortCut, type XmlEvents, type XmlLimits } from './read-xml.ts'
