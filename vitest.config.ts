import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    // On a busy machine a browser may answer later than a test waits; a fault fails each time.
    retry: process.env.CI === undefined ? 0 : 2,
    testTimeout: 30_000,
    hookTimeout: 60_000,
  },
});
