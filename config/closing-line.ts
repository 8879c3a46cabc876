import type { Reporter, TestModule } from 'vitest/node'

/** Prints the plain closing line `N passed, N failed, N skipped`, which any tool can read. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const count = { passed: 0, failed: 0, skipped: 0 }
    for (const module of modules) {
      if (module.errors().length > 0) count.failed += 1
      for (const test of module.children.allTests()) {
        const { state } = test.result()
        if (state !== 'pending') count[state] += 1
      }
    }
    console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`)
  }
}
