import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import manifest from '../package.json' with { type: 'json' };
import { LAYERS, PACKAGES, type Violation, violations } from './layers.ts';

const root = join(import.meta.dirname, '..');
const sources = new Map(
  readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => [`src/${name.replaceAll('\\', '/')}`, readFileSync(join(root, 'src', name), 'utf8')]),
);

test('the source keeps the rules between and inside layers', () => {
  expect(sources.size).toBeGreaterThan(20);
  for (const layer of LAYERS) expect([...sources.keys()].some((file) => file.startsWith(`src/${layer}/`))).toBe(true);
  expect(violations(sources)).toEqual([]);
});

const PLANTED: readonly [Violation['rule'], string, string][] = [
  ['direction', 'src/kernel/a.ts', "import { x } from '#project';"],
  ['direction', 'src/project/a.ts', "export * from '#study';"],
  ['direction', 'src/kernel/a.ts', "import type { X } from '#kernel';"],
  ['direction', 'src/study/a.ts', "const x = await import('#cli');"],
  ['direction', 'src/kernel/a.test.ts', "import { x } from '#server';"],
  ['index-only', 'src/study/a.ts', "import { x } from '#kernel/math';"],
  ['outside', 'src/study/a.ts', "import { x } from '../kernel/math/rigid.ts';"],
  ['outside', 'src/kernel/a.ts', "type X = import('../project/text.ts').Path;"],
  ['outside', 'src/kernel/a.ts', "import { x } from '../../test/expect-within.ts';"],
  ['package', 'src/kernel/a.ts', "import { z } from 'zod';"],
  ['package', 'src/kernel/a.ts', "import fs from 'node:fs';"],
  ['package', 'src/study/a.ts', "import fs from 'fs';"],
  ['package', 'src/draw/a.ts', "import x from '@scope/thing/deep';"],
  ['package', 'src/project/a.ts', 'const x = await import(name);'],
  ['steady', 'src/kernel/a.ts', 'export const x = Math.random();'],
  ['steady', 'src/study/a.ts', 'export const x = Math.random();'],
  ['steady', 'src/kernel/a.ts', 'export const x = Math.hypot(3, 4);'],
  ['steady', 'src/kernel/a.ts', 'export const x = Math.pow(3, 4);'],
  ['steady', 'src/kernel/a.ts', 'const { pow } = Math;'],
  ['steady', 'src/kernel/a.ts', "export const x = Math['pow'](3, 4);"],
  ['steady', 'src/kernel/a.ts', 'export const x = (y: number): number => y ** 2;'],
  ['steady', 'src/kernel/a.ts', 'export let x = 2; x **= 3;'],
  ['steady', 'src/kernel/a.ts', 'export const t = new Date();'],
  ['steady', 'src/kernel/a.ts', 'export const t = performance.now();'],
  ['code-from-text', 'src/project/a.ts', "export const x = new Function('return 1');"],
  ['unknown-file', 'src/extra/a.ts', ''],
];
test.each(PLANTED)('a planted violation of "%s" in %s is caught: %s', (rule, file, text) => {
  expect(violations(new Map([[file, text]])).map((violation) => violation.rule)).toEqual([rule]);
});

test('a planted cycle is caught, a cycle of types only is not one', () => {
  const round = (word: string) =>
    new Map([
      ['src/kernel/a.ts', `${word} { b } from './b.ts';`],
      ['src/kernel/b.ts', `export { c } from './c.ts';`],
      ['src/kernel/c.ts', `${word} { a } from './a.ts';`],
    ]);
  expect(violations(round('import')).map((violation) => violation.rule)).toEqual(['cycle']);
  expect(violations(round('import type'))).toEqual([]);
});

test('what the rules allow is not reported', () => {
  const files = new Map([
    [
      'src/kernel/a.ts',
      "// Math.random ** Date\nimport { Matrix } from 'ml-matrix';\nexport const s = 'Math.pow';\nexport const o = { Date: Math.sqrt(2) };",
    ],
    [
      'src/study/a.test.ts',
      "import { test } from 'vitest';\nimport { x } from '../../test/expect-within.ts';\nimport { k } from '#kernel';",
    ],
    ['src/cli/a.ts', "import { join } from 'node:path';\nimport { s } from '#study';"],
  ]);
  expect(violations(files)).toEqual([]);
});

test('every package that a layer may use is installed by the project in one exact version', () => {
  const versions: Record<string, string> = manifest.devDependencies;
  for (const name of Object.values(PACKAGES)
    .flat()
    .filter((p) => p !== 'node:'))
    expect(versions[name]).toMatch(/^\d+\.\d+\.\d+$/);
  for (const version of Object.values(versions)) expect(version).toMatch(/^\d/);
});
