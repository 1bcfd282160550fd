import { beforeAll, describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { quayside } from '../../../test/fixtures/quayside.ts';
import { evaluate, plan } from '../evaluate.ts';
import type { Results } from '../results.ts';
import type { Workspace } from '../workspace.ts';

/** A product of eight numbers and their quotient. */
const ROUNDOFF = { relative: 32 * EPS };
const LIFTS = [
  { name: 'gangway', height: 0.25 },
  { name: 'boot', height: 0.7 },
  { name: 'sky', height: 2.2 },
];

let w: Workspace;
const all = new Map<string, ReturnType<typeof evaluate>>();
beforeAll(() => {
  w = quayside();
  const setting = { ...w.setting, journey: { ...w.setting.journey, lifts: LIFTS } };
  for (const c of w.candidates) {
    const whole = plan(c, setting, w.reference);
    const own = new Set(whole.quantities.map((q) => q.id).filter((id) => id.startsWith('effort.')));
    all.set(c.id, evaluate(plan(c, setting, w.reference, ['drag', 'settle'], own)));
  }
});
const resultsOf = (id: string): Results => all.get(id)!.results;
const reasonOf = (id: string, quantity: string): string | undefined => {
  const e = all.get(id)!;
  return e.reason[e.quantities.findIndex((q) => q.id === quantity)];
};

describe('effort of quayside’s candidates', () => {
  it('is known for every one of them, in the range of practised folders of four hinges, pedals and a stand', () => {
    for (const [id, { results }] of all) {
      const { fold, unfold } = results.effort!;
      // a practised fold of that many parts takes 15 to 40 s: judgement; outside it something is wrong with the analysis
      for (const t of [fold, unfold]) expect(t.seconds > 15 && t.seconds < 40, `${id} ${t.seconds}`).toBe(true);
      expect(fold.steps.length).toBeGreaterThan(results.model.fold.length - 1);
    }
  });
  it('multiplies the lifting equation out as its sheet prints it', () => {
    for (const { quantities, value, results, reason } of all.values())
      quantities.forEach((q, i) => {
        if (!q.id.endsWith('.index') || reason[i]) return;
        const [m, lc, ...multipliers] = q.family.inputs!(results, q.slot).map((x) => x.value);
        expectWithin(value[i]!, m! / multipliers.reduce((p, x) => p * x, lc!), ROUNDOFF, q.id);
      });
  });
  it('says so where a lift is beyond the equation', () => {
    expect(reasonOf('side_beam', 'effort.lift.sky.index')).toMatch(/1.75 m/);
    expect(reasonOf('side_beam', 'effort.lift.sky.able')).toMatch(/1.75 m/);
  });
  it('carries higher over the steps with a taller hand', () => {
    for (const { results } of all.values()) {
      const { short, usual, tall } = results.burden!.edge!;
      expect(short.stairs).toBeLessThan(usual.stairs);
      expect(usual.stairs).toBeLessThan(tall.stairs);
      expect(short.stairs).toBeLessThan(short.level);
    }
  });
  it('works the stand by foot and both halves of a heavy swing by two hands', () => {
    const { fold } = resultsOf('side_beam').effort!;
    const step = (words: string) => fold.steps.find((x) => x.words === words)!;
    expect(step('turn stand hinge').elements.some((e) => e.code === 'FMP')).toBe(true);
    expect(
      step('turn main')
        .elements.filter((e) => e.kind === 'move')
        .map((e) => e.hand),
    ).toEqual(['both']);
  });
  it('refuses to call it rolling when the hand carries most of it', () => {
    for (const [id, { results }] of all) {
      const roll = results.burden!.roll;
      const reason = reasonOf(id, 'effort.roll_force');
      if (!roll) expect(reason, id).toMatch(/does not roll/);
      else if (Math.abs(roll.carried) > 0.5) expect(reason, id).toMatch(/carried rather than rolled/);
      else expect(reason, id).toBeUndefined();
    }
  });
});
