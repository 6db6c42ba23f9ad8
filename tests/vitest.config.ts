import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/**/*.long.test.ts', 'tests/**/*.long.test.tsx'],
    reporters: ['default', './tests/support/reporter.ts'],
    // A busy machine must not fail a test that is right; nothing here is timed.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Two cores are enough for two files at a time; left alone, vitest would keep one of them idle.
    maxWorkers: 2,
    // Files share what they import, which spares a third of the time; nothing in the program keeps state by itself. A test
    // that puts something in a module's place belongs in the long suite, where each file stands alone.
    isolate: false,
    passWithNoTests: true,
  },
});
