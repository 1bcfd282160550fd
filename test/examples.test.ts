/**
 * Every project under examples/ is read, solved and held to what its README says: the plausibility bands are read from
 * the README's own table, so that the page cannot drift from the test.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readProject } from '#project';
import { choose, findCures, judgeCandidate, openWorkspace, unitFactor } from '#study';

const examples = join(import.meta.dirname, '..', 'examples');
const projects = readdirSync(examples).filter((name) => readdirSync(join(examples, name)).includes('foldwright.yaml'));

function filesOf(name: string): Map<string, string> {
  const root = join(examples, name);
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.yaml'));
  return new Map(files.map((f) => [f.replaceAll('\\', '/'), readFileSync(join(root, f), 'utf8')]));
}

interface Band {
  readonly quantity: string;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}
/** Rows `| quantity | low | high | unit | why |` of the README's table of bands. */
function bandsOf(name: string): Band[] {
  const text = readFileSync(join(examples, name, 'README.md'), 'utf8');
  return [...text.matchAll(/^\| `([a-z_.]+)` \| (-?[\d.]+) \| (-?[\d.]+) \| ([^|]*) \|/gm)].map(
    ([, quantity, low, high, unit]) => ({
      quantity: quantity!,
      low: Number(low),
      high: Number(high),
      unit: unit!.trim(),
    }),
  );
}

it('there is an example to test', () => {
  expect(projects).toContain('quayside');
});

describe.each(projects)('%s', (name) => {
  const { project, problems } = readProject(filesOf(name));
  const workspace = openWorkspace(project!);
  const judged = workspace.candidates.map((c) => judgeCandidate(workspace, c));

  it('is read without an error and without a caution', () => {
    expect([...problems, ...workspace.problems].map((p) => `${p.file}:${p.line} ${p.message}`)).toEqual([]);
  });

  it('lies within the bands that its README states', () => {
    const bands = bandsOf(name);
    expect(bands.length).toBeGreaterThanOrEqual(5);
    for (const band of bands)
      for (const j of judged) {
        const i = j.evaluation.quantities.findIndex((q) => q.id === band.quantity);
        expect(i, band.quantity).toBeGreaterThanOrEqual(0);
        expect(j.evaluation.quantities[i]!.family.unit, band.quantity).toBe(band.unit);
        const value = j.evaluation.value[i]! / unitFactor(band.unit);
        expect(value, `${band.quantity} of ${j.candidate.id}`).toBeGreaterThanOrEqual(band.low);
        expect(value, `${band.quantity} of ${j.candidate.id}`).toBeLessThanOrEqual(band.high);
      }
  });

  it('has a finite figure or a reason for every quantity', () => {
    for (const j of judged)
      j.evaluation.quantities.forEach((q, i) => {
        const text = `${q.id} of ${j.candidate.id}`;
        if (j.evaluation.reason[i] === undefined) expect(Number.isFinite(j.evaluation.value[i]), text).toBe(true);
        else expect(j.evaluation.reason[i]!.length, text).toBeGreaterThan(5);
      });
  });
});

describe('quayside', () => {
  const { project } = readProject(filesOf('quayside'));
  const workspace = openWorkspace(project!);
  const judged = workspace.candidates.map((c) => judgeCandidate(workspace, c));
  const choice = choose(judged, workspace.brief.weightsSweep);

  it('has at least fourteen demands and wishes and four candidates of four families', () => {
    expect(workspace.brief.demands.length + workspace.brief.wishes.length).toBeGreaterThanOrEqual(14);
    expect(workspace.candidates.map((c) => c.id)).toEqual(
      expect.arrayContaining(['four_bar', 'side_beam', 'spine', 'swing_rear']),
    );
  });

  it('has two candidates or more that hold all demands, each better than the other on some wish', () => {
    const holders = judged.filter((j) => j.ledger.holdsAll);
    expect(holders.length).toBeGreaterThanOrEqual(2);
    for (const a of holders)
      for (const b of holders)
        if (a !== b)
          expect(a.ledger.rows.some((r, i) => r.kind === 'wish' && r.score! > b.ledger.rows[i]!.score! + 0.01)).toBe(
            true,
          );
    expect(choice.build).toBeDefined();
  });

  it('has a candidate that fails for a reason that is found, and an edit of one dimension that cures it', () => {
    const failing = judged.filter((j) => !j.ledger.holdsAll);
    expect(failing.length).toBeGreaterThanOrEqual(1);
    const cured = failing.flatMap((j) => findCures(workspace, j)).filter((c) => c.left === 0);
    expect(cured.length).toBeGreaterThanOrEqual(1);
  });
});
