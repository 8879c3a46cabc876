export { escapeXml, xmlText } from './escape-xml.ts'
export { localName, readXml, type XmlEvents, type XmlLimits } from './read-xml.ts'
