/**
 * A bicycle with all lengths k times as large, absolute ones such as hub widths and hardware included, folds through the same
 * angles with k times the clearances into a box k times as large: no hidden length is left anywhere in fold and envelope.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  BOX_FINE,
  boxAlong,
  type Model,
  newFoldBox,
  newPosedShapes,
  planFold,
  poseFolded,
  poseShapes,
  provePath,
  type State,
  slides,
} from '#kernel';
import { readProject } from '#project';
import { expectWithin } from './expect-within.ts';

const root = join(import.meta.dirname, '..', 'examples', 'quayside');
const names = ['foldwright.yaml', 'brief.yaml', ...readdirSync(join(root, 'candidates')).map((f) => `candidates/${f}`)];
const { project } = readProject(new Map(names.map((n) => [n, readFileSync(join(root, n), 'utf8')])));
/** The same steps on numbers that differ in rounding; loops close to 1e-12 of their size. */
const SAME = { relative: 1e-6, absolute: 1e-7 };

/** Multiplies every length that the fold reads. */
function enlarge(m: Model, s: State, k: number): void {
  const times = (a: Float64Array, i: number): void => {
    a[i]! *= k;
  };
  for (let i = 0; i < s.station.length; i++) times(s.station, i);
  for (let j = 0; j < m.top.kind.length; j++) {
    for (let i = 0; i < 3; i++) times(s.joint, 6 * j + i);
    if (slides(m.top.kind[j]!)) for (let i = 0; i < 2; i++) times(s.range, 2 * j + i);
  }
  for (let i = 0; i < s.capsule.length; i++) times(s.capsule, i);
  for (let i = 0; i < m.top.nDisc; i++) for (const f of [0, 1, 2, 6, 7]) times(s.disc, 8 * i + f);
  for (let i = 0; i < m.top.nBox; i++) for (const f of [0, 1, 2, 12, 13, 14]) times(s.box, 15 * i + f);
  const targets = new Set(m.fold.filter((v) => v.to >= 0 && slides(m.top.kind[v.joint]!)).map((v) => v.to));
  for (const slot of targets) times(s.value, slot);
}

function measured(m: Model, k: number): { gaps: number[]; size: number[] } {
  const s = m.newState();
  m.fill(m.x, s);
  if (k !== 1) enlarge(m, s, k);
  const plan = planFold(m, s);
  const proofs = provePath(m, s, plan, { tolerance: 0.0002 * k, care: 0.05 * k });
  poseFolded(m, plan, s);
  const posed = newPosedShapes(m.top);
  poseShapes(m.top, s, posed);
  const box = newFoldBox(m.top);
  boxAlong(posed, [0, 1, 0], box, BOX_FINE);
  return { gaps: proofs.map((p) => p.least!.gap), size: [...box.size] };
}

describe.each(project!.candidates.filter((c) => c.model.fold.length > 0).map((c) => [c.id, c.model] as const))(
  '%s',
  (_, model) => {
    it.each([0.5, 3])('times %d', (k) => {
      const [as, scaled] = [measured(model, 1), measured(model, k)];
      expect(as.gaps.length).toBeGreaterThan(3);
      for (const [i, gap] of as.gaps.entries()) expectWithin(scaled.gaps[i]!, k * gap, SAME, `motion ${i}`);
      for (const [i, side] of as.size.entries()) expectWithin(scaled.size[i]!, k * side, SAME, `side ${i}`);
    });
  },
);
