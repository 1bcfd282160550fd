/** The package as a user gets it: packed from a clone, installed elsewhere without a registry, run and imported there. */
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makeClone, root, run } from './clone.ts';

let clone: string;
let home: string;
let contents: string[];
/** Everything installed must come from the tarball: no registry, no cache. */
const noRegistry = () => ({
  npm_config_registry: 'http://127.0.0.1:9/',
  npm_config_cache: join(home, 'cache'),
  npm_config_fetch_retries: '0',
});

beforeAll(async () => {
  clone = makeClone();
  home = mkdtempSync(join(tmpdir(), 'foldwright-user-'));
  const packed = await run(clone, 'npm', ['pack', '--json']);
  expect(packed.code, packed.stderr).toBe(0);
  const [about] = JSON.parse(packed.stdout.slice(packed.stdout.indexOf('['))) as [
    { filename: string; files: { path: string }[] },
  ];
  contents = about.files.map((file) => file.path);
  writeFileSync(join(home, 'package.json'), '{"private":true,"type":"module"}');
  const args = ['install', '--no-audit', '--no-fund', join(clone, about.filename)];
  const installed = await run(home, 'npm', args, noRegistry());
  expect(installed.code, installed.stderr).toBe(0);
});
afterAll(() => {
  for (const folder of [clone, home]) if (folder) rmSync(folder, { recursive: true, force: true });
});

const foldwright = (args: readonly string[], input = '', cwd = home) =>
  run(cwd, join(home, 'node_modules', '.bin', 'foldwright'), args, {}, input);

test('it holds the program, the types and the examples, one build only and no sources or tests', () => {
  for (const path of [
    'bin/foldwright.mjs',
    'dist/cli.mjs',
    'dist/types/kernel/index.d.ts',
    'dist/THIRD-PARTY-LICENSES.txt',
    'LICENSE',
    'README.md',
  ])
    expect(contents).toContain(path);
  expect(contents.filter((path) => /^(src|test|scripts|node_modules|\.cache|out)\//.test(path))).toEqual([]);
  expect(new Set(contents.flatMap((path) => /^dist\/(b-[^/]+)\//.exec(path)?.[1] ?? [])).size).toBe(1);
  expect(readdirSync(join(home, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual(['foldwright']);
});

test('it runs through the link that npm makes and through one more', async () => {
  const link = join(home, 'fw');
  symlinkSync(join(home, 'node_modules', '.bin', 'foldwright'), link);
  for (const result of [await foldwright(['--version']), await run(tmpdir(), link, ['--version'])])
    expect(result).toMatchObject({ code: 0, stderr: '', stdout: expect.stringMatching(/^\d/) });
});

test('every calculation runs on its own example', async () => {
  const names = readdirSync(join(root, 'examples', 'calc')).map((name) => name.replace('.json', ''));
  expect(names.length).toBeGreaterThan(1);
  for (const name of names) {
    const example = await foldwright(['calc', name, '--example']);
    expect(await foldwright(['calc', name], example.stdout), name).toMatchObject({ code: 0, stderr: '' });
  }
});

test('new, check and choose work on a project of its own', async ({ skip }) => {
  const made = await foldwright(['new', 'mine']);
  if (made.stderr.includes('not part of this version')) skip('`new` is not written yet');
  expect(made, made.stderr).toMatchObject({ code: 0 });
  const check = await foldwright(['check', 'mine', '--json']);
  expect(check.code, check.stdout).toBeLessThanOrEqual(1);
  const choose = await foldwright(['choose', 'mine', '--json']);
  expect(choose.code, choose.stdout).toBeLessThanOrEqual(1);
  const { candidates } = JSON.parse(choose.stdout) as { candidates: { id: string; ledger: unknown[] }[] };
  expect(candidates.length).toBeGreaterThan(0);
  for (const candidate of candidates) expect(candidate.ledger.length).toBeGreaterThan(0);
  expect(readdirSync(home)).toContain('mine');
});

test('it is a library with types for a strict user', async () => {
  mkdirSync(join(home, 'use'), { recursive: true });
  writeFileSync(
    join(home, 'use', 'a.ts'),
    `import { norm, type Vec3 } from 'foldwright/kernel';
import { nearestName } from 'foldwright/project';
import { calcTopicNames } from 'foldwright/study';
const v: Vec3 = [3, 4, 0];
const length: number = norm(v);
// @ts-expect-error the types are real: a number is not text
const wrong: string = norm(v);
console.log(JSON.stringify({ length, near: nearestName('hinje', ['hinge']), topics: calcTopicNames.length, wrong }));
`,
  );
  const settings = {
    compilerOptions: {
      strict: true,
      module: 'nodenext',
      target: 'es2023',
      lib: ['es2023'],
      types: ['node'],
      typeRoots: [join(root, 'node_modules', '@types')],
      outDir: 'js',
    },
    files: ['a.ts'],
  };
  writeFileSync(join(home, 'use', 'tsconfig.json'), JSON.stringify(settings));
  const typed = await run(join(home, 'use'), process.execPath, [
    join(root, 'node_modules', 'typescript', 'bin', 'tsc'),
    '-p',
    '.',
    '--skipLibCheck',
    'true',
  ]);
  expect(typed.stdout).toBe('');
  expect(typed.code).toBe(0);
  const ran = await run(join(home, 'use'), process.execPath, ['js/a.js']);
  expect(JSON.parse(ran.stdout)).toMatchObject({ length: 5, near: 'hinge', wrong: 5 });
});

test('an installation without its build says so', async () => {
  const dist = join(home, 'node_modules', 'foldwright', 'dist', 'cli.mjs');
  const text = readFileSync(dist, 'utf8');
  rmSync(dist);
  const result = await foldwright(['--version']);
  writeFileSync(dist, text);
  expect(existsSync(dist)).toBe(true);
  expect(result).toMatchObject({ code: 70, stdout: '' });
  expect(result.stderr).toContain('install the package again');
});
