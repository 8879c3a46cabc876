export { type RunningServer, type ServerOptions, startServer } from './start-server.ts'
export type { Surroundings } from './surroundings.ts'
