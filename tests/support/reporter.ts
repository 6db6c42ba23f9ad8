import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Reporter, TestModule } from 'vitest/node';

/** Closes a run with one plain line, and writes the counts to the file named by COUNTS_FILE when there is one. */
export default class CountsReporter implements Reporter {
  onTestRunEnd(testModules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    let passed = 0;
    let skipped = 0;
    // An error outside every test, and a file that could not be read, count as one failure each.
    let failed = unhandledErrors.length;
    for (const testModule of testModules) {
      failed += testModule.errors().length;
      for (const test of testModule.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        else if (state === 'failed') failed += 1;
        else skipped += 1;
      }
    }
    const file = process.env.COUNTS_FILE;
    if (file) {
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, `${passed} ${failed} ${skipped}\n`);
    }
    console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
  }
}
