export { type Features, requireLonLat } from './features.ts'
export { findTexts } from './find-texts.ts'
