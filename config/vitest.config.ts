import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { compileCache } from '../tools/setup.mjs'

/** What is pure leaves nothing behind for the next file: these share a process, and what was read into it. */
const pure = 'src/{core,formats,contract}/**/!(*.slow).test.ts'

/** Three tiers by suffix: .test (fast), .slow.test (seconds each), .browser.test (needs a chromium). */
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    environment: 'node',
    globalSetup: fileURLToPath(new URL('./run-folder.ts', import.meta.url)),
    setupFiles: [fileURLToPath(new URL('./property-seed.ts', import.meta.url))],
    // For the programs that tests start, as for every other: see tools/run.mjs.
    env: { NODE_COMPILE_CACHE: process.env.NODE_COMPILE_CACHE ?? compileCache },
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // What a page shows may be late on a busy machine; a test that is right waits no longer for it.
    expect: { poll: { timeout: 10_000 } },
    projects: [
      { extends: true, test: { name: 'pure', include: [pure], isolate: false } },
      {
        extends: true,
        test: {
          name: 'other',
          include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'test/**/*.test.ts'],
          exclude: [pure],
        },
      },
    ],
    reporters: ['default', fileURLToPath(new URL('./closing-line.ts', import.meta.url))],
  },
})
