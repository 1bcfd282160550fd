import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { readBrief, readDocument } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { fixtureModel } from '../../../test/fixtures/beam.ts';
import { evaluate, plan } from '../evaluate.ts';
import type { Results } from '../results.ts';
import { settingOf } from '../setting.ts';
import { stifferJoint } from './frame-what-if.ts';

/** Two solutions by different orders of elimination. */
const SOLVED = 1e-8;
const BRIEF = readFileSync(new URL('../../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');

describe('a stiffer joint', () => {
  let r: Results;
  beforeAll(() => {
    const setting = settingOf(readBrief(readDocument('brief.yaml', BRIEF).document!).brief!);
    const wanted = new Set(['frame.bar_fore_aft']);
    r = evaluate(plan(fixtureModel(), setting, undefined, ['drag'], wanted)).results;
  });
  const stiffer = (joint: string, factor: number, id: 'bar_fore_aft' | 'head_torsion' = 'bar_fore_aft') =>
    stifferJoint(r.frame!.model, r.frame!.solver, id, joint, factor);

  it('in a chain that statics alone decide takes its own share of the motion down by its factor', () => {
    const s = r.stiffness!.get('bar_fore_aft')!;
    const share =
      s.shares.parts.filter((p) => p.name === 'bar_hinge').reduce((a, p) => a + p.value, 0) / s.shares.total;
    expect(share).toBeGreaterThan(0.05);
    for (const factor of [0.5, 1.5, 10]) {
      const found = stiffer('bar_hinge', factor)!;
      expectWithin(found.before, s.value, { relative: SOLVED }, 'as it is');
      expectWithin(found.after, s.value / (1 - share * (1 - 1 / factor)), { relative: SOLVED }, `× ${factor}`);
    }
  });

  it('times 1 changes nothing, and a stiffer one never makes the bicycle softer', () => {
    const same = stiffer('main', 1, 'head_torsion')!;
    expectWithin(same.after, same.before, { relative: SOLVED }, 'factor 1');
    const more = stiffer('main', 1.5, 'head_torsion')!;
    expect(more.after).toBeGreaterThan(more.before);
    expect(more.rotates).toBe(true);
  });

  it('leaves the model as it was: the next answer is the same', () => {
    const first = stiffer('bar_hinge', 3);
    expect(stiffer('bar_hinge', 3)).toEqual(first);
    expectWithin(stiffer('bar_hinge', 1)!.before, first!.before, { relative: 0 }, 'before');
  });

  it('takes both bearings of the steerer as one joint, and says nothing about a joint that is not there', () => {
    const found = stiffer('steering', 2)!;
    expect(found.after).toBeGreaterThan(found.before);
    expect(stiffer('no_such_joint', 2)).toBeUndefined();
  });
});
