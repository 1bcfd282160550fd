/** `new`, `check`, `choose`, `compare` and `import` on real folders. */
import { mkdir, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type Effects, processEffects } from './effects.ts';
import { run } from './run.ts';

const home = join(import.meta.dirname, '..', '..');
let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'foldwright-cli-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function cli(argv: readonly string[], cwd = folder) {
  let stdout = '';
  let stderr = '';
  const effects: Effects = {
    stdout: { write: (text) => (stdout += text) },
    stderr: { write: (text) => (stderr += text) },
    stdin: { isTTY: false, read: async () => new Uint8Array() },
    cwd,
    home,
    readFile: (path) => readFile(path),
    writeFile: processEffects(home).writeFile,
  };
  return { exit: await run(argv, effects), stdout, stderr };
}
const edit = async (name: string, from: string, to: string) => {
  const path = join(folder, 'mine', name);
  const text = await readFile(path, 'utf8');
  if (!text.includes(from)) throw new Error(`${name} has no "${from}"`);
  await writeFile(path, text.replace(from, to));
};

describe('a project of one’s own', () => {
  beforeEach(async () => {
    expect(await cli(['new', 'mine'])).toMatchObject({ exit: 0, stderr: '' });
  });

  test('new writes a starter that check accepts, and never overwrites', async () => {
    expect(await cli(['check', 'mine'])).toMatchObject({ exit: 0, stderr: '' });
    const again = await cli(['new', 'mine']);
    expect(again.exit).toBe(2);
    expect(again.stderr).toMatch(/not empty/);
  });

  test('the project is the first argument, the option, or the folder we are in', async () => {
    const answers = [
      await cli(['check', 'mine', 'side_beam']),
      await cli(['check', '--project', 'mine', 'side_beam']),
      await cli(['check', 'side_beam'], join(folder, 'mine')),
      await cli(['check', 'candidates/side_beam.yaml'], join(folder, 'mine', 'candidates')),
    ];
    for (const answer of answers) expect(answer).toEqual(answers[0]);
    expect(answers[0]!.stdout).toContain('holds  mass.total');
    expect(await cli(['check'])).toMatchObject({ exit: 2, stderr: expect.stringContaining('foldwright new DIR') });
  });

  test('choose --json has the ledger of every candidate and the choice', async () => {
    const { exit, stdout } = await cli(['choose', 'mine', '--json']);
    expect(exit).toBe(0);
    const answer = JSON.parse(stdout);
    expect(answer.candidates[0]).toMatchObject({ id: 'side_beam', holds_all: true });
    for (const row of answer.candidates[0].ledger)
      expect(Object.keys(row)).toEqual(
        expect.arrayContaining(['quantity', 'kind', 'value', 'unit', 'limit', 'margin', 'holds']),
      );
    expect(answer.choice.build).toBe('side_beam');
  });

  test('a missed demand gives exit 1, the shortfall and an edit that cures it', async () => {
    await edit('brief.yaml', 'steer.trail, at_least: 30 mm', 'steer.trail, at_least: 54 mm');
    const { exit, stdout } = await cli(['choose', 'mine']);
    expect(exit).toBe(1);
    expect(stdout).toMatch(/misses trail \(steer\.trail\): [\d.]+ mm, ≥ 54 mm, short by [\d.]+ mm/);
    expect(stdout).toMatch(/instead of .* would hold them all/);
    expect((await cli(['check', 'mine'])).exit).toBe(1);
  });

  test('unusable input gives exit 2 with place and way out, and the other candidates are still judged', async () => {
    const good = await readFile(join(folder, 'mine', 'candidates', 'side_beam.yaml'), 'utf8');
    await writeFile(join(folder, 'mine', 'candidates', 'broken.yaml'), good.replace('wheelbase', 'wheelbose'));
    const { exit, stderr, stdout } = await cli(['check', 'mine']);
    expect(exit).toBe(2);
    expect(stderr).toMatch(/candidates\/broken\.yaml:\d+:\d+: error: .*wheelbase/);
    expect(stdout).toContain('(side_beam)');
    expect(await cli(['check', 'mine', 'side_beam'])).toMatchObject({ exit: 0, stderr: '' });
    expect((await cli(['check', 'mine', 'broken'])).exit).toBe(2);
    const json = JSON.parse((await cli(['check', 'mine', 'broken', '--json'])).stdout);
    expect(json.problems[0]).toMatchObject({ file: 'candidates/broken.yaml', severity: 'error' });
  });

  test('explain prints the workings, and an unknown quantity gets the nearest name', async () => {
    const { exit, stdout } = await cli(['check', 'mine', '--explain', 'steer.trail']);
    expect(exit).toBe(0);
    for (const words of ['c = (r*cos(g) - f)/sin(g)', 'Inputs', 'Depends most on', 'Source:', 'Valid:'])
      expect(stdout).toContain(words);
    expect(await cli(['check', 'mine', '--explain', 'steer.trial'])).toMatchObject({
      exit: 2,
      stderr: expect.stringContaining('steer.trail'),
    });
  });

  test('compare needs two candidates that exist', async () => {
    const text = await readFile(join(folder, 'mine', 'candidates', 'side_beam.yaml'), 'utf8');
    await writeFile(join(folder, 'mine', 'candidates', 'other.yaml'), text);
    const both = await cli(['compare', 'mine', 'side_beam', 'other']);
    expect(both.exit).toBe(0);
    expect(both.stdout).toContain('Too close to call');
    expect(await cli(['compare', 'mine', 'side_beam', 'othr'])).toMatchObject({
      exit: 2,
      stderr: expect.stringContaining('did you mean other?'),
    });
  });

  test('a page is written, whole and without script', async () => {
    expect((await cli(['choose', 'mine', '--html', 'page.html'])).exit).toBe(0);
    const page = await readFile(join(folder, 'page.html'), 'utf8');
    expect(page).toMatch(/^<!doctype html>/i);
    expect(page).toContain('</html>');
    expect(page).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)/);
  });
});

describe('what a person gets wrong', () => {
  beforeEach(async () => {
    await cli(['new', 'mine']);
  });
  const refused = async (argv: readonly string[], words: RegExp, cwd = folder) => {
    const { exit, stderr } = await cli(argv, cwd);
    expect({ exit, stderr }).toEqual({ exit: 2, stderr: expect.stringMatching(words) });
  };

  test('a page never takes the place of a project file, and a place that cannot be written is a problem', async () => {
    const brief = await readFile(join(folder, 'mine', 'brief.yaml'), 'utf8');
    await refused(['choose', 'mine', '--html', 'mine/brief.yaml'], /no name for a page.*\n.*end it in \.html/);
    await refused(['choose', 'mine', '--html', ''], /no name for a page/);
    expect(await readFile(join(folder, 'mine', 'brief.yaml'), 'utf8')).toBe(brief);
    await mkdir(join(folder, 'page.html'));
    await refused(['choose', 'mine', '--html', 'page.html'], /page\.html cannot be written: there is a folder/);
    await refused(['check', 'mine', '--html', 'mine/brief.yaml/x.html'], /cannot be written: .*folder/);
    const json = await cli(['choose', 'mine', '--json', '--html', 'page.html']);
    expect(json.exit).toBe(2);
    expect(JSON.parse(json.stdout).problems).toMatchObject([{ code: 'file.unwritable', file: 'page.html' }]);
    await refused(['check', 'mine', '--explain', 'mass.total', '--html', 'y.html'], /leave --html out/);
  });

  test('a project without candidates, or that is none, is told in words', async () => {
    await refused(['check', 'nowhere'], /^error: "nowhere" is not a project folder/);
    await rm(join(folder, 'mine', 'candidates'), { recursive: true });
    await refused(['check', 'mine'], /there is no candidate to judge/);
    await mkdir(join(folder, 'elsewhere'));
    await symlink(join(folder, 'elsewhere'), join(folder, 'mine', 'candidates'));
    await refused(['choose', 'mine'], /candidates is a link/);
    await mkdir(join(folder, 'other', 'brief.yaml'), { recursive: true });
    await writeFile(join(folder, 'other', 'foldwright.yaml'), 'format: 1\nproject: other\n');
    await refused(['check', 'other'], /brief\.yaml is a folder/);
  });

  test('a candidate that does not fold is left out of the choice, and that is said', async () => {
    const text = await readFile(join(folder, 'mine', 'candidates', 'side_beam.yaml'), 'utf8');
    const rigid = text.replace(/\nfold:[\s\S]*?\n\n/, '\n');
    await writeFile(join(folder, 'mine', 'candidates', 'rigid.yaml'), rigid);
    const { exit, stderr, stdout } = await cli(['choose', 'mine']);
    expect(exit).toBe(0);
    expect(stderr).toMatch(/rigid does not fold: it is left out/);
    expect(stdout).toContain('1 candidate, 9 demands');
  });

  test('names that would steer a terminal are shown and not obeyed', async () => {
    await edit('candidates/side_beam.yaml', 'candidate: Side beam', 'candidate: "red \\u001b[31m \\u202e beam"');
    for (const command of ['check', 'choose']) {
      const { stdout } = await cli([command, 'mine']);
      expect(stdout).toContain('red ·[31m · beam');
      // biome-ignore lint/suspicious/noControlCharactersInRegex: it is what must not be there.
      expect(stdout).not.toMatch(/[\u001b\u202e]/);
    }
  });

  test('comparing one with itself, or checking two, is refused', async () => {
    await refused(['compare', 'mine', 'side_beam', 'side_beam'], /compared with itself/);
    await refused(['check', 'mine', 'side_beam', 'side_beam'], /check takes one candidate/);
  });

  test('a file that is not UTF-8 is shown with the place of the wrong byte', async () => {
    const latin = Buffer.from('format: 1\ncandidate: Fl\u00fcgel\n', 'latin1');
    await writeFile(join(folder, 'mine', 'candidates', 'b.yaml'), latin);
    await refused(
      ['check', 'mine', 'b'],
      /b\.yaml:2:14: error: [^\n]*\n {2}2 \| candidate: Fl\ufffdgel\n {4}\| {14}\^/,
    );
  });
});

describe('import', () => {
  test('turns points of a CSV file into stations, and names bad rows', async () => {
    await writeFile(
      join(folder, 'points.csv'),
      'name,x_mm,y_mm,z_mm\nrear_hub,0,0,239\ncrank,410,0,290\nbad,one,0,0\n',
    );
    const { exit, stdout, stderr } = await cli(['import', 'points.csv']);
    expect(exit).toBe(0);
    expect(stdout).toMatch(/rear_hub: \[0.*239/);
    expect(stderr).toMatch(/points\.csv:4/);
    expect((await cli(['import', 'points.csv', '--out', 'new.yaml'])).exit).toBe(0);
    expect((await cli(['import', 'points.csv', '--out', 'new.yaml'])).exit).toBe(2);
    expect((await cli(['import', 'points.txt'])).exit).toBe(2);
    expect(await cli(['import', 'none.csv'])).toMatchObject({
      exit: 2,
      stderr: expect.stringMatching(/there is no file none\.csv/),
    });
    await mkdir(join(folder, 'dir.csv'));
    expect(await cli(['import', 'dir.csv'])).toMatchObject({
      exit: 2,
      stderr: expect.stringMatching(/dir\.csv is a folder/),
    });
    expect(await cli(['import', 'points.csv', '--out', 'dir.csv'])).toMatchObject({
      exit: 2,
      stderr: expect.stringMatching(/folder of that/),
    });
  });
});
