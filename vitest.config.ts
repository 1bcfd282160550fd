import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['src/**/*.test.ts', 'verification/**/*.test.ts', 'test/**/*.test.ts'],
    exclude: ['**/*.long.test.ts', 'node_modules/**', 'dist/**'],
    testTimeout: 60_000,
    pool: 'threads',
  },
});
