export { alignedFrame, type GridFrame, type LatticeFrame } from './grid-frame.ts'
