import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    environment: 'node',
    setupFiles: ['tests/support/lawSeed.ts'],
    testTimeout: 30_000,
    maxWorkers: 2,
    isolate: false,
  },
});
