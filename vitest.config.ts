import { defineConfig } from 'vitest/config';

/** `npm run test:long` runs only what is too slow for every change. */
const long = process.env['FOLDWRIGHT_LONG'] === '1';
const folders = ['src', 'verification', 'test'];

export default defineConfig({
  test: {
    include: folders.map((folder) => `${folder}/**/*.${long ? 'long.' : ''}test.ts`),
    exclude: long ? [] : ['**/*.long.test.ts'],
    testTimeout: long ? 600_000 : 60_000,
    hookTimeout: long ? 600_000 : 60_000,
    fileParallelism: !long, // long tests measure time and start processes of their own
    setupFiles: ['./vitest.setup.ts'],
    pool: 'threads',
  },
});
