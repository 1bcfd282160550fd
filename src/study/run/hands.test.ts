import { describe, expect, test } from 'vitest';
import type { ResolvedCandidate } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { quayside } from '../../../test/fixtures/quayside.ts';
import { runFold } from './fold.ts';
import { runFoolproof } from './foolproof.ts';
import { allLoads, runHands } from './hands.ts';
import { latchesOf } from './latch.ts';
import { lockMishaps } from './lock-mishaps.ts';
import { runMass } from './mass.ts';
import { runPinch } from './pinch.ts';

const { candidates, setting } = quayside();
function handled(candidate: ResolvedCandidate, people = setting.people) {
  const { model } = candidate;
  const s = model.newState();
  model.fill(model.x, s);
  const fold = runFold(model, s);
  const hands = runHands(candidate, s, { ...setting, people }, runMass(model, s), fold);
  return { candidate, s, fold, hands };
}
const all = candidates.map((c) => handled(c));

describe('hands of every candidate of the example', () => {
  test('work as much as the parts rise and friction takes, both ways, followers of loops included', () => {
    let moves = 0;
    for (const { hands } of all)
      for (const m of hands.moves) {
        if (!m) continue;
        moves++;
        // Simpson over 12 strips: kinks where the force changes its sign, and half turns
        const tolerance = { absolute: 2e-3 * (m.fold.work + m.fold.returned + m.loss) };
        expectWithin(m.fold.work - m.fold.returned, m.rise + m.loss, tolerance, m.move);
        expectWithin(m.unfold.work - m.unfold.returned, -m.rise + m.loss, tolerance, m.move);
        expect(m.loss).toBeGreaterThan(0);
      }
    expect(moves).toBeGreaterThan(20);
  });
  test('push forces that a person meets: newtons, not kilonewtons, and some part falls', () => {
    for (const { hands } of all) {
      for (const m of hands.moves) {
        expect(m!.greatest.force).toBeGreaterThan(0.1);
        expect(m!.greatest.force).toBeLessThan(100);
      }
      expect(Math.max(...hands.moves.map((m) => m!.fold.runaway))).toBeGreaterThan(1);
    }
  });
  test('leave the state in the ride posture', () => {
    for (const { s } of all) expect(s.q.every((v) => v === 0)).toBe(true);
  });
  test('ask more of anybody at home than of people at work, and more women are left out than men', () => {
    for (const { candidate, hands } of all) {
      const work = handled(candidate, { ...setting.people, hands: 'workers' }).hands;
      const women = handled(candidate, { ...setting.people, women: 1 }).hands;
      const names = candidate.model.top.names;
      allLoads(hands, names).forEach(({ load }, i) => {
        expect(allLoads(work, names)[i]!.load.risk).toBeLessThan(load.risk);
        expect(allLoads(women, names)[i]!.load.able).toBeLessThanOrEqual(load.able);
      });
    }
  });
});

test('a longer lever closes the same lock with less force, or clamps more with the same', () => {
  const { candidate, s } = all.find((x) => x.candidate.id === 'four_bar')!;
  const joint = candidate.model.top.names.joints.indexOf('bar_hinge');
  const latch = latchesOf(candidate, s).find((l) => l.joint === joint)!;
  expect(latch.kind).toBe('mechanism');
  const t = { ...s, value: s.value.slice() };
  t.value[candidate.hardware[joint]!.lever]! *= 1.5;
  const longer = latchesOf(candidate, t).find((l) => l.joint === joint)!;
  expect(longer.figures!.handForce).toBeLessThan(latch.figures!.handForce / 1.4);
});

describe('locks', () => {
  const mishaps = (id: string) => {
    const { candidate, s } = all.find((x) => x.candidate.id === id)!;
    const latches = latchesOf(candidate, s);
    return { candidate, latches, found: lockMishaps(candidate.model, s, latches, new Set()) };
  };
  test('without a principle on the shelf count as looking shut; with one whose catch shows it they are seen', () => {
    const { candidate, latches } = mishaps('spine');
    const { model } = candidate;
    const s = model.newState();
    model.fill(model.x, s);
    const joint = model.top.names.joints.indexOf('bar_hinge');
    const latch = latches.find((l) => l.joint === joint)!;
    const end = (change: Partial<typeof latch>) =>
      lockMishaps(model, s, [{ ...latch, ...change }], new Set()).find((x) => x.mishap === 'half_shut')!.end;
    expect(end({})).toBe('seen');
    expect(end({ kind: 'given', principle: undefined, mechanism: undefined, figures: undefined, actions: 1 })).toBe(
      'looks_shut',
    );
    // of the shelf's locks with two actions two show nothing: a count of actions is no proof
    expect(end({ kind: 'given', principle: undefined, mechanism: undefined, figures: undefined, actions: 2 })).toBe(
      'looks_shut',
    );
    // the same lever without its second catch
    expect(end({ principle: { ...latch.principle!, halfShut: 'nothing' } })).toBe('looks_shut');
    expect(end({ kind: 'detent', principle: undefined, mechanism: undefined, figures: undefined, actions: 0 })).toBe(
      'blocked',
    );
  });
  test('tell which joints move when they let go', () => {
    const { candidate, found } = mishaps('four_bar');
    const main = candidate.model.top.names.joints.indexOf('main');
    // the hook closes the triangle: without it the links swing
    expect(found.find((x) => x.joint === main)!.frees.length).toBeGreaterThan(0);
  });
});

describe('pinches', () => {
  test('are where a hand is, in the band, and every hinge that a hand locks is one', () => {
    for (const { candidate, s, fold, hands } of all) {
      const { places } = runPinch(candidate, s, fold, hands);
      expect(places.length).toBeGreaterThan(2);
      for (const p of places) {
        expect(p.gap).toBeLessThan(0.025);
        expect(p.from).toBeGreaterThan(0.004);
        expect(p.advantage).toBeGreaterThan(0);
      }
      const bar = candidate.model.top.names.joints.indexOf('bar_hinge');
      expect(places.some((p) => p.joint === bar)).toBe(true);
    }
  });
});

test('a candidate’s findings add up, with words for each hazard', () => {
  for (const { candidate, s, fold } of all) {
    const r = runFoolproof(candidate, s, fold);
    const looks = [
      ...r.orders.causes.filter((c) => c.end === 'looks_shut'),
      ...r.forgotten.filter((f) => f.end === 'looks_shut'),
      ...r.locks.filter((l) => l.end === 'looks_shut'),
      ...r.holders.filter((h) => h.end === 'looks_shut'),
    ];
    expect(r.hazards).toHaveLength(looks.length);
    for (const h of r.hazards) expect(h.words.length).toBeGreaterThan(10);
    // one entry a motion and way
    expect(r.forgotten).toHaveLength(2 * r.states.motions.length);
  }
});
