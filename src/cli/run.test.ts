import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { calcTopicNames } from '#study';
import { EPS, expectWithin } from '../../test/expect-within.ts';
import type { Effects } from './effects.ts';
import { run } from './run.ts';

const home = join(import.meta.dirname, '..', '..');

async function cli(argv: readonly string[], stdin: string | Uint8Array = '') {
  let stdout = '';
  let stderr = '';
  const effects: Effects = {
    stdout: { write: (text) => (stdout += text) },
    stderr: { write: (text) => (stderr += text) },
    stdin: { isTTY: false, read: async () => (typeof stdin === 'string' ? new TextEncoder().encode(stdin) : stdin) },
    cwd: home,
    home,
    readFile: (path) => readFile(path),
    writeFile: async () => undefined,
  };
  return { exit: await run(argv, effects), stdout, stderr };
}
const problemsOf = (stdout: string) => (JSON.parse(stdout) as { problems: Record<string, unknown>[] }).problems;

/** The same formula in another order of operations. */
const ROUND_OFF = { relative: 8 * EPS };
const GEOMETRY = { wheel_radius_m: 0.203, head_angle_deg: 71, fork_offset_m: 0.03 };

describe('the command line', () => {
  test('prints the version and the help on stdout with exit 0', async () => {
    expect(await cli(['--version'])).toMatchObject({
      exit: 0,
      stdout: expect.stringMatching(/^\d+\.\d+\.\d+\n$/),
      stderr: '',
    });
    const help = await cli(['--help']);
    expect(help).toMatchObject({ exit: 0, stderr: '' });
    for (const name of ['new', 'import', 'check', 'choose', 'compare', 'calc'])
      expect(help.stdout).toContain(`  ${name} `);
  });

  test.each([
    [['chose', 'x'], 'Did you mean choose?'],
    [['check', 'x', '--jsn'], 'Did you mean --json?'],
    [['compare'], "missing required argument 'what'"],
    [['new'], "missing required argument 'dir'"],
    [[], 'Usage: foldwright'],
  ])('answers %j with exit 2 and a way out on stderr', async (argv, words) => {
    const result = await cli(argv);
    expect(result).toMatchObject({ exit: 2, stdout: '' });
    expect(result.stderr).toContain(words);
  });

  test('answers wrong use as problems on stdout where the caller reads JSON', async () => {
    for (const argv of [
      ['check', 'x', '--jsn', '--json'],
      ['calc', '--lst'],
    ]) {
      const result = await cli(argv);
      expect(result).toMatchObject({ exit: 2, stderr: '' });
      expect(problemsOf(result.stdout)).toMatchObject([
        { code: 'cli.usage', hint: expect.stringContaining('Did you mean --') },
      ]);
    }
  });
});

describe('calc', () => {
  test('computes from stdin in full precision', async () => {
    const result = await cli(['calc', 'steer-geometry'], JSON.stringify(GEOMETRY));
    expect(result).toMatchObject({ exit: 0, stderr: '' });
    const angle = (71 * Math.PI) / 180;
    const trail = (0.203 * Math.cos(angle) - 0.03) / Math.sin(angle);
    expectWithin((JSON.parse(result.stdout) as { trail_m: number }).trail_m, trail, ROUND_OFF);
  });

  test('lists every topic with its meaning', async () => {
    const { exit, stdout } = await cli(['calc', '--list']);
    expect(exit).toBe(0);
    expect(
      stdout
        .trim()
        .split('\n')
        .map((line) => line.split(' ')[0]),
    ).toEqual(calcTopicNames);
    const json = JSON.parse((await cli(['calc', '--list', '--json'])).stdout) as {
      topics: { name: string; meaning: string }[];
    };
    expect(json.topics.map((topic) => topic.name)).toEqual(calcTopicNames);
    for (const topic of json.topics) expect(topic.meaning.length).toBeGreaterThan(5);
  });

  test.each(calcTopicNames)('%s: its own example runs, its schemas are JSON Schema', async (topic) => {
    const example = await cli(['calc', topic, '--example']);
    expect(await cli(['calc', topic], example.stdout)).toMatchObject({ exit: 0, stderr: '' });
    const schema = JSON.parse((await cli(['calc', topic, '--schema'])).stdout);
    for (const side of ['input', 'output'])
      expect(schema[side]).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', type: 'object' });
  });

  test('names the nearest topic, or all when none is near', async () => {
    const near = await cli(['calc', 'steer-geometri'], '{}');
    expect(near.exit).toBe(2);
    expect(problemsOf(near.stdout)).toMatchObject([{ code: 'calc.topic', hint: 'did you mean steer-geometry?' }]);
    expect(problemsOf((await cli(['calc', 'zzzz'])).stdout)[0]!['hint']).toContain(calcTopicNames[0]!);
    expect(problemsOf((await cli(['calc', 'constructor'])).stdout)).toMatchObject([{ code: 'calc.topic' }]);
    expect((await cli(['calc'])).exit).toBe(2);
  });

  const good = JSON.stringify(GEOMETRY, null, 1);
  test.each<[string, string | Uint8Array, object]>([
    ['empty input', '', { message: expect.stringContaining('empty') }],
    ['NaN', good.replace('71', 'NaN'), { path: 'head_angle_deg', line: 3, column: 20, length: 3 }],
    ['minus Infinity', good.replace('71', '-Infinity'), { path: 'head_angle_deg', line: 3 }],
    ['a number too large to hold', good.replace('71', '1e999'), { path: 'head_angle_deg', line: 3 }],
    [
      'text for a number',
      good.replace('71', '"71"'),
      { path: 'head_angle_deg', line: 3, found: '"71"', expected: 'number' },
    ],
    [
      'a missing key',
      good.replace('"wheel_radius_m": 0.203,', ''),
      { path: 'wheel_radius_m', message: 'this value is missing' },
    ],
    [
      'an unknown key',
      good.replace('head_angle_deg', 'head_angel_deg'),
      { path: 'head_angel_deg', hint: 'did you mean head_angle_deg?' },
    ],
    [
      'a duplicate key',
      good.replace('}', ', "head_angle_deg": 72}'),
      { path: 'head_angle_deg', message: expect.stringContaining('twice') },
    ],
    ['a missing brace', good.replace('}', ''), { message: expect.stringContaining('the text ends') }],
    [
      'a trailing comma',
      good.replace('}', ',}'),
      { line: 5, message: expect.stringContaining('key in double quotes') },
    ],
    ['a leading zero', good.replace('71', '071'), { path: 'head_angle_deg', message: expect.stringContaining('071') }],
    ['a list', '[1]', { path: '' }],
    ['null', 'null', { path: '' }],
    ['bytes that are not UTF-8', new Uint8Array([0x7b, 0xff, 0x7d]), { message: expect.stringContaining('UTF-8') }],
    ['brackets nested deep enough to break a stack', '['.repeat(200_000), { message: expect.stringContaining('deep') }],
  ])('refuses %s with exit 2, the place and one problem at least', async (_, input, problem) => {
    const result = await cli(['calc', 'steer-geometry'], input);
    expect(result).toMatchObject({ exit: 2, stderr: '' });
    const problems = problemsOf(result.stdout);
    expect(problems).toContainEqual(
      expect.objectContaining({ code: 'calc.input', severity: 'error', file: 'stdin', ...problem }),
    );
  });

  test('tells which field of a shape is wrong, and the shapes there are', async () => {
    const shapes = async (a: object, b: object) =>
      problemsOf((await cli(['calc', 'clearance'], JSON.stringify({ a, b }))).stdout).map(
        (p) =>
          `${p['path']}: ${p['message']}${p['expected'] ? `, ${p['expected']}` : ''}${p['hint'] ? `, ${p['hint']}` : ''}`,
      );
    const ball = { capsule: { from_mm: [0, 0, 0], to_mm: [0, 0, 0], radius_mm: 1 } };
    expect(await shapes({ box: { centre_mm: [0, 0, 0], size_mm: [1, 1, 1] } }, { ball: {} })).toEqual([
      'a.box.half_mm: this value is missing, array',
      'a.box.size_mm: the key "size_mm" is not known here',
      'b: nothing tells what this is, one of capsule, disc, box',
    ]);
    expect(await shapes({ capsule: { ...ball.capsule, radius_mm: -1, to_mm: [0, 0] } }, ball)).toEqual([
      'a.capsule.to_mm: the list needs at least 3 entries',
      'a.capsule.radius_mm: the number must be 0 or more',
    ]);
  });

  test('collects all problems of one input', async () => {
    const { stdout } = await cli(
      ['calc', 'steer-geometry'],
      '{"wheel_radius_m": -1, "head_angle_deg": "x", "extra": 1}',
    );
    expect(
      problemsOf(stdout)
        .map((problem) => problem['path'])
        .sort(),
    ).toEqual(['extra', 'fork_offset_m', 'head_angle_deg', 'wheel_radius_m']);
  });
});
