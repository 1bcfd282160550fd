import { describe, expect, it } from 'vitest';
import { readProject, starterFiles } from '#project';
import { choose } from './choose.ts';
import { findCures } from './cures.ts';
import { explain, substitute } from './explain.ts';
import { judgeCandidate, openWorkspace } from './workspace.ts';

/** The starter project with parts of its files replaced. */
function workspace(...changes: readonly (readonly [file: string, from: string, to: string])[]) {
  const files = new Map(starterFiles('test'));
  for (const [file, from, to] of changes) {
    const text = files.get(file);
    if (!text?.includes(from)) throw new Error(`${file} has no "${from}"`);
    files.set(file, text.replace(from, to));
  }
  const { project, problems } = readProject(files);
  if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
  return openWorkspace(project);
}
const TRAIL = 'steer.trail, at_least: 30 mm';
const first = (w: ReturnType<typeof workspace>) => judgeCandidate(w, w.candidates[0]!);

describe('judging', () => {
  it('holds the starter, and misses a demand that is moved past the figure by the stated margin', () => {
    const held = first(workspace());
    expect(held.ledger.holdsAll).toBe(true);
    const trail = held.ledger.rows.find((r) => r.quantity === 'steer.trail')!;
    const missed = first(workspace(['brief.yaml', TRAIL, 'steer.trail, at_least: 60 mm']));
    const row = missed.ledger.rows.find((r) => r.quantity === 'steer.trail')!;
    expect(row.holds).toBe(false);
    expect(row.margin! - (trail.value! - 60)).toBe(0);
    expect(missed.ledger.holdsAll).toBe(false);
  });

  it('calls a quantity that cannot be computed absent with its reason, and not held', () => {
    const j = first(workspace(['brief.yaml', TRAIL, 'steer.likeness, at_least: 0.1']));
    const row = j.ledger.rows.find((r) => r.quantity === 'steer.likeness')!;
    expect(row).toMatchObject({ value: null, holds: false, margin: null });
    expect(row.absent).toMatch(/reference/);
  });

  it('refuses unknown quantities with the nearest name and limits in the wrong kind of unit', () => {
    const w = workspace(
      ['brief.yaml', TRAIL, 'steer.trial, at_least: 30 mm'],
      ['brief.yaml', 'mass.total, at_most: 15 kg', 'mass.total, at_most: 15 mm'],
    );
    expect(w.problems.map((p) => [p.code, p.line > 1, p.hint ?? '']).sort()).toEqual([
      ['demand.limit', true, ''],
      ['quantity.unknown', true, 'did you mean `steer.trail`?'],
    ]);
  });
});

describe('choosing', () => {
  it('names the only candidate that holds all demands, and none when none does', () => {
    const w = workspace();
    expect(choose([first(w)], 0.3)).toMatchObject({ build: 'side_beam', tooClose: false, rival: undefined });
    const none = workspace(['brief.yaml', TRAIL, 'steer.trail, at_least: 60 mm']);
    const choice = choose([first(none)], 0.3);
    expect(choice.build).toBeUndefined();
    expect(choice.order[0]!.misses.map((m) => m.quantity)).toEqual(['steer.trail']);
  });

  it('says too close to call between a candidate and its twin, whatever the order', () => {
    const w = workspace();
    const a = first(w);
    const twin = { ...a, candidate: { ...a.candidate, id: 'twin' } };
    for (const pair of [
      [a, twin],
      [twin, a],
    ]) {
      const choice = choose(pair, 0.3);
      expect(choice.build).toBe('side_beam');
      expect(choice.tooClose).toBe(true);
      expect(choice.rival).toMatchObject({ id: 'twin', lead: 0, flipsAt: 0 });
    }
  });
});

describe('cures', () => {
  it('finds an edit of one dimension that holds the missed demand when the edited file is judged anew', () => {
    const w = workspace(['brief.yaml', TRAIL, 'steer.trail, at_least: 54 mm']);
    const j = first(w);
    const cures = findCures(w, j);
    expect(cures.length).toBeGreaterThan(0);
    const cure = cures[0]!;
    expect(cure.left).toBe(0);
    const again = first(
      workspace(
        ['brief.yaml', TRAIL, 'steer.trail, at_least: 54 mm'],
        ['candidates/side_beam.yaml', `${cure.dimension}: ${cure.from}`, `${cure.dimension}: ${cure.to}`],
      ),
    );
    expect(again.ledger.holdsAll).toBe(true);
  });

  it('finds none for what no dimension can do', () => {
    const w = workspace(['brief.yaml', 'mass.total, at_most: 15 kg', 'mass.total, at_most: 2 kg']);
    expect(findCures(w, first(w))).toEqual([]);
  });
});

describe('a sheet', () => {
  it('shows inputs, substitution, result, source and what it depends on most', () => {
    const w = workspace();
    const j = first(w);
    const quantity = j.evaluation.quantities.find((q) => q.id === 'steer.trail')!;
    const sheet = explain(j, quantity, w);
    expect(sheet.formula).toBe('c = (r*cos(g) - f)/sin(g)');
    expect(sheet.substitution).toMatch(/^\(239\.36 mm\*cos\(72 deg\) - [\d.]+ mm\)\/sin\(72 deg\)$/);
    expect(sheet.dependsOn[0]).toMatchObject({ dimension: 'head_lean', step: '1 deg' });
    expect(sheet.source).toMatch(/Moore/);
  });

  it('puts negative figures in brackets', () => {
    const input = { symbol: 'q', meaning: '', value: -6.3, unit: 'deg' };
    expect(substitute('w*sin(q)', [input])).toBe('w*sin((-6.3 deg))');
  });
});
