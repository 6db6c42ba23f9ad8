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
    passWithNoTests: true,
  },
});
