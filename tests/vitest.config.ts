import { defineConfig } from 'vitest/config';

// Simulations that prove a rate need seconds; nothing here asserts on time.
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    setupFiles: ['tests/support/set-up.ts'],
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
});
