#!/usr/bin/env node
// The installed command `lynchet`: sets up what is missing and hands over to Node 24.
process.argv.splice(2, 0, 'lynchet')
await import('./run.mjs')
