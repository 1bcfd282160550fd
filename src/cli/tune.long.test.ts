/** `foldwright tune` on real folders: exit codes, JSON, files written and not written. */
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { plainBeamFiles } from '../../test/fixtures/plain-beam.ts';
import { type Effects, processEffects } from './effects.ts';
import { run } from './run.ts';

const home = join(import.meta.dirname, '..', '..');
let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'foldwright-tune-'));
  for (const [name, text] of plainBeamFiles()) {
    await mkdir(dirname(join(folder, 'mine', name)), { recursive: true });
    await writeFile(join(folder, 'mine', name), text);
  }
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function cli(argv: readonly string[], changed: Partial<Effects> = {}) {
  let stdout = '';
  let stderr = '';
  const effects: Effects = {
    stdout: { write: (text) => (stdout += text) },
    stderr: { write: (text) => (stderr += text) },
    stdin: { isTTY: false, read: async () => new Uint8Array() },
    cwd: folder,
    home,
    readFile: (path) => readFile(path),
    writeFile: processEffects(home).writeFile,
    ...changed,
  };
  return { exit: await run(argv, effects), stdout, stderr };
}
const FILE = 'candidates/side_beam.yaml';
const read = (name: string) => readFile(join(folder, 'mine', name), 'utf8');

/** The plain project with these demands on its frame. */
async function demand(...demands: readonly string[]): Promise<void> {
  const brief = await read('brief.yaml');
  const lines = demands.map((d) => `  - {quantity: ${d}}\n`).join('');
  await writeFile(join(folder, 'mine', 'brief.yaml'), brief.replace('\n# Wishes', `${lines}\n# Wishes`));
}
const FORK = 'frame.fork_bending.worst_use, at_most: 0.9';
const BAR = 'frame.bar_lateral.worst_use, at_most: 0.8';

const keysOf = (x: unknown): unknown =>
  Array.isArray(x)
    ? x.length > 0
      ? [keysOf(x[0])]
      : []
    : x !== null && typeof x === 'object'
      ? Object.keys(x)
      : typeof x;

test('gauges that hold all give exit 0, each with its reason; JSON has the same keys whether they hold or not', async () => {
  await demand(FORK, BAR);
  const people = await cli(['tune', 'mine', 'side_beam', '--no-curve']);
  expect(people).toMatchObject({ exit: 0, stderr: '' });
  expect(people.stdout).toMatch(
    /mast of bar: with round 36 x [\d.]+ mm frame\.bar_lateral\.worst_use is [\d.]+, ≤ 0\.8/,
  );
  expect(people.stdout).toContain('its bore of 34 mm stays');
  expect(people.stdout).toMatch(/testing to ISO 4210/);
  const machine = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--json']);
  expect(machine.exit).toBe(0);
  const holds = JSON.parse(machine.stdout);
  await demand('frame.bar_forward.worst_use, at_most: 0.01');
  const missed = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--json']);
  expect(missed.exit).toBe(1);
  const misses = JSON.parse(missed.stdout);
  expect(Object.keys(misses)).toEqual(Object.keys(holds));
  expect([holds.holds, misses.holds]).toEqual([true, false]);
  for (const key of ['demands', 'tubes', 'left_alone'] as const)
    expect(keysOf(misses[key])).toEqual(keysOf(holds[key]));
  expect(keysOf(holds.tubes)).toEqual([
    ['tubes', 'material', 'section_now', 'section_tuned', 'from', 'changed', 'mass_added_kg', 'one_step_lighter'],
  ]);
  expect(misses.obstacles[0]).toMatchObject({ quantity: 'frame.bar_forward.worst_use', limit: 0.01 });
  expect(misses.too_weak[0].asked_over_borne).toBeGreaterThan(1);
});

test('--write changes the sections and nothing else, keeps a copy, and the copy undoes it', async () => {
  await demand(FORK, BAR);
  const before = await read(FILE);
  const { exit, stdout } = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write']);
  expect(exit).toBe(0);
  expect(stdout).toMatch(/Wrote candidates\/side_beam\.yaml\. To undo, copy out\/side_beam-before-tune\.yaml over it/);
  expect(stdout).toContain('bar.mast: round 36 x 2 mm');
  const after = await read(FILE);
  expect(after).not.toBe(before);
  const plain = (text: string) => text.replaceAll(/section: round [\d.]+ x [\d.]+ mm/g, 'section');
  expect(plain(after)).toBe(plain(before));
  expect(await read('out/side_beam-before-tune.yaml')).toBe(before);
  // once more: nothing is left to change, and the copy stays
  const again = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write']);
  expect(again).toMatchObject({ exit: 0, stdout: expect.stringContaining('Nothing was written: no section changes') });
  expect(await read(FILE)).toBe(after);
});

test('a second --write keeps the first copy', async () => {
  await demand(FORK, BAR);
  const before = await read(FILE);
  await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write']);
  await writeFile(join(folder, 'mine', FILE), before.replace('round 36 x 2 mm', 'round 36 x 3 mm'));
  const { stdout } = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write']);
  expect(stdout).toContain('out/side_beam-before-tune-2.yaml');
  expect(await read('out/side_beam-before-tune.yaml')).toBe(before);
});

test('a file that changed while the sizes were looked for is left alone', async () => {
  await demand(FORK, BAR);
  const { writeFile: real } = processEffects(home);
  const answer = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write'], {
    async writeFile(path, content, expected) {
      // somebody else saves between our reading and our writing
      if (path.endsWith(FILE)) await writeFile(join(folder, 'mine', FILE), 'format: 1\n');
      return real(path, content, expected);
    },
  });
  expect(answer.exit).toBe(2);
  expect(answer.stderr).toMatch(/changed/);
  expect(answer.stdout).toContain('Nothing was written');
  expect(await read(FILE)).toBe('format: 1\n');
});

test('--write-as adds a variant that check judges beside the candidate', async () => {
  await demand(FORK, BAR);
  const { exit, stdout } = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write-as', 'light']);
  expect(exit).toBe(0);
  expect(stdout).toContain('Wrote the variant side_beam+light into candidates/side_beam.yaml');
  const checked = JSON.parse((await cli(['check', 'mine', '--json'])).stdout);
  expect(checked.candidates.map((c: { id: string }) => c.id)).toEqual(['side_beam', 'side_beam+light']);
  const [own, light] = checked.candidates.map(
    (c: { ledger: { quantity: string; value: number }[] }) => c.ledger.find((r) => r.quantity === 'mass.total')!.value,
  );
  expect(light).toBeLessThan(own);
});

test('where not all holds --write changes nothing', async () => {
  await demand('frame.bar_lateral.worst_use, at_most: 0.01');
  const before = await read(FILE);
  const { exit, stdout } = await cli(['tune', 'mine', 'side_beam', '--no-curve', '--write']);
  expect(exit).toBe(1);
  expect(stdout).toContain('Nothing was written: these gauges do not hold all');
  expect(await read(FILE)).toBe(before);
});

test('--svg writes the curve as one picture without anything from outside', async () => {
  await demand(FORK, BAR);
  const { exit, stdout } = await cli([
    'tune',
    'mine',
    'side_beam',
    '--svg',
    'curve.svg',
    '--against',
    'frame.bar_fore_aft',
  ]);
  expect(exit).toBe(0);
  expect(stdout).toContain('Wrote curve.svg');
  const picture = await readFile(join(folder, 'curve.svg'), 'utf8');
  expect(picture).toMatch(/^<svg xmlns/);
  expect(picture).toContain('lightest that holds');
  expect(picture).not.toMatch(/href|url\(|var\(--/);
});

test.each([
  [['tune', 'mine'], /tune takes one candidate/],
  [['tune', 'mine', 'side_beem'], /did you mean side_beam\?/],
  [['tune', 'mine', 'side_beam', '--against', 'frame.head_torsoin'], /did you mean frame\.head_torsion\?/],
  [['tune', 'mine', 'side_beam', '--no-curve', '--svg', 'x.svg'], /nothing to draw/],
  [['tune', 'mine', 'side_beam', '--svg', 'brief.yaml'], /no name for a picture/],
  [['tune', 'mine', 'side_beam', '--write', '--write-as', 'light'], /choose one/],
  [['tune', 'mine', 'side_beam', '--write-as', 'Light!'], /no name for a variant/],
])('%s is refused', async (argv, message) => {
  const answer = await cli(argv);
  expect(answer.exit).toBe(2);
  expect(answer.stderr).toMatch(message);
  expect(answer.stdout).toBe('');
});

test('a candidate of Quayside: lighter where it holds, never broken elsewhere', async () => {
  const { exit, stdout } = await cli(['tune', join(home, 'examples', 'quayside'), 'four_bar', '--no-curve', '--json']);
  const answer = JSON.parse(stdout);
  const held = answer.demands.every((d: { now: number; limit: number; sense: string }) =>
    d.sense === 'at_most' ? d.now <= d.limit : d.now >= d.limit,
  );
  expect(held).toBe(true);
  expect(exit).toBe(0);
  expect(answer.mass_tuned_kg).toBeLessThanOrEqual(answer.mass_now_kg);
  expect(answer.would_miss).toEqual([]);
}, 60_000);
