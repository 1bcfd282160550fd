/** Set-up and build in a fresh clone, with the settings that usually break them. Needs npm's cache or a registry. */
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makeClone, run } from './clone.ts';

let clone: string;
beforeAll(() => {
  clone = makeClone();
});
afterAll(() => rmSync(clone, { recursive: true, force: true }));

const setup = (env: NodeJS.ProcessEnv = {}) => run(clone, process.execPath, ['scripts/setup.mjs'], env);
const PRODUCTION = { NODE_ENV: 'production', npm_config_omit: 'dev optional', npm_config_production: 'true' };

test('without network and cache the message says so and nothing is stamped', async () => {
  const env = {
    npm_config_registry: 'http://127.0.0.1:9/',
    npm_config_cache: join(clone, 'empty'),
    npm_config_fetch_retries: '0',
  };
  const result = await setup(env);
  expect(result.code).toBe(1);
  expect(result.stderr).toContain('registry cannot be reached');
  expect(existsSync(join(clone, 'node_modules', '.foldwright-stamp'))).toBe(false);
});

test('two that start at once install once, development packages included, whatever the environment says', async () => {
  const results = await Promise.all([setup(PRODUCTION), setup(PRODUCTION)]);
  const said = results.map((result) => result.stderr).join('');
  expect(
    results.map((result) => result.code),
    said,
  ).toEqual([0, 0]);
  expect(said.match(/packages installed/g)).toHaveLength(1);
  expect(said.match(/waiting for another setup/g)).toHaveLength(1);
  for (const name of ['vitest', 'typescript', '@biomejs/biome', 'rolldown'])
    expect(existsSync(join(clone, 'node_modules', name)), name).toBe(true);
});

test('when nothing changed it is done at once', async () => {
  await setup();
  const bare = await run(clone, process.execPath, ['-e', '']);
  const result = await setup();
  expect(result.stderr).toContain('nothing to do');
  expect(result.seconds - bare.seconds).toBeLessThan(0.3);
});

test('it repeats what was cut off or damaged', async () => {
  rmSync(join(clone, 'node_modules', '.foldwright-stamp'));
  rmSync(join(clone, 'node_modules', 'vite'), { recursive: true });
  const result = await setup(PRODUCTION);
  expect(result.stderr).toContain('packages installed');
  expect(existsSync(join(clone, 'node_modules', 'vite', 'package.json'))).toBe(true);
});

const program = (args: readonly string[], input = '') =>
  run(clone, process.execPath, ['bin/foldwright.mjs', ...args], {}, input);

test('two that start at once build once and both run', async () => {
  const results = await Promise.all([program(['--version']), program(['--version'])]);
  const { version } = JSON.parse(readFileSync(join(clone, 'package.json'), 'utf8')) as { version: string };
  for (const result of results) expect(result, result.stderr).toMatchObject({ code: 0, stdout: `${version}\n` });
  expect(
    results
      .map((result) => result.stderr)
      .join('')
      .match(/build: done/g),
  ).toHaveLength(1);
});

test('it rebuilds when a source changed and starts quickly otherwise', async () => {
  const file = join(clone, 'src', 'cli', 'run.ts');
  const before = readFileSync(file, 'utf8');
  writeFileSync(file, before.replace('one calculation, JSON', 'ONE calculation, JSON'));
  const changed = await program(['--help']);
  expect(changed.stderr).toContain('build: done');
  expect(changed.stdout).toContain('ONE calculation');
  const again = await program(['--help']);
  expect(again.stderr).toBe('');
  const bare = await run(clone, process.execPath, ['-e', '']);
  expect(again.seconds - bare.seconds).toBeLessThan(0.25);
});

test('a source that does not build gives the place and keeps the earlier build', async () => {
  const file = join(clone, 'src', 'cli', 'run.ts');
  const before = readFileSync(file, 'utf8');
  const entry = readFileSync(join(clone, 'dist', 'cli.mjs'), 'utf8');
  writeFileSync(file, `${before}\nconst = 3;\n`);
  const result = await program(['--version']);
  writeFileSync(file, before);
  expect(result.code).toBe(70);
  expect(result.stderr).toContain('run.ts');
  expect(readFileSync(join(clone, 'dist', 'cli.mjs'), 'utf8')).toBe(entry);
});
