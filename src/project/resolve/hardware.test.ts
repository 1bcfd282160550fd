import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { beamYaml, fixtureModel } from '../../../test/fixtures/beam.ts';
import { findPrinciple, JOINT_SHELF } from '../data/joint-shelf.ts';
import type { Problem } from '../problems.ts';
import { type ResolvedCandidate, resolveCandidate } from '../resolve.ts';
import { readDocument } from '../text.ts';

const ROUNDOFF = { relative: 1e-12 };
/** The bar's hinge in the fixture gives no stiffness and no preload. */
const BAR = '{shape: box 50 x 44 x 50 mm, mass: 0.3 kg, hand_force: 50 N}';
const withBar = (hardware: string) => beamYaml([BAR, hardware]);
const of = (c: ResolvedCandidate, joint: string, x = c.model.x) => {
  const s = c.model.newState();
  c.model.fill(x, s);
  const h = c.hardware[c.model.top.names.joints.indexOf(joint)]!;
  return { h, v: (slot: number): number => s.value[slot]!, text: (slot: number): string => c.slots[slot]!.text };
};
const problems = (yaml: string): readonly Problem[] =>
  resolveCandidate(readDocument('candidates/beam.yaml', yaml).document!).problems;

describe('hardware without a principle', () => {
  it('keeps what the file gives and gets stiffness, marked as default, where it gives none', () => {
    const main = of(fixtureModel(), 'main');
    expectWithin(main.v(main.h.bendAcross), 35e3, ROUNDOFF);
    expect(main.text(main.h.bendAcross)).toBe('35 kN.m/rad');
    const bar = of(fixtureModel(), 'bar_hinge');
    expect(bar.h.principle).toBe('');
    expect(bar.h.basis).toBe('face_toggle');
    for (const name of ['bendAcross', 'bendAlong', 'twist', 'pull', 'shearAcross', 'shearAlong'] as const) {
      expect(bar.v(bar.h[name])).toBeGreaterThan(0);
      expect(bar.text(bar.h[name])).toBe('');
    }
    expect(bar.h.preload).toBe(-1);
    expect(bar.h.play).toBe(-1);
    expect(bar.h.opens).toEqual([]);
    expectWithin(bar.v(bar.h.handForce), 50, ROUNDOFF);
  });
  it('opens where the file gives a preload: about the arm that its face has', () => {
    const main = of(fixtureModel(), 'main');
    expect(main.h.opens.map((o) => o.component)).toEqual(['bendAcross', 'bendAlong', 'pull']);
    // The box of 45 × 70 mm less bolts and lugs: what a face of (45 − 8)/1.1 × (70 − 10) mm would need.
    expectWithin(main.v(main.h.face[0]!), (45 - 8) / 1.1 / 1e3, ROUNDOFF);
    expectWithin(main.v(main.h.face[1]!), 0.06, ROUNDOFF);
    expectWithin(main.v(main.h.opens[0]!.arm), 0.85 * main.v(main.h.face[0]!), ROUNDOFF);
    expectWithin(main.v(main.h.openShare), findPrinciple('face_toggle')!.openShare.typical, ROUNDOFF);
  });
  it('leaves steerer and cranks to their bearings, and a clamp that no face parts shut', () => {
    const c = fixtureModel();
    for (const joint of ['steering', 'cranks']) {
      const { h } = of(c, joint);
      expect([h.basis, h.bendAcross, h.pull]).toEqual(['', -1, -1]);
    }
    expect(of(c, 'post_clamp').h.basis).toBe('screw_clamp');
    expect(of(c, 'post_clamp').h.opens).toEqual([]);
  });
});

describe('a named principle', () => {
  it('fills in everything, preload from the hand that closes it', () => {
    const bar = of(fixtureModel(undefined, withBar('{principle: gooseneck}')), 'bar_hinge');
    const shelf = findPrinciple('gooseneck')!;
    expect(bar.h.principle).toBe('gooseneck');
    expect(bar.h.actions).toBe(shelf.actions);
    expectWithin(bar.v(bar.h.handForce), shelf.hand.typical, ROUNDOFF);
    expect(bar.v(bar.h.preload)).toBeGreaterThan(1000);
    expect(bar.v(bar.h.preload)).toBeLessThan(6000);
    expect(bar.v(bar.h.play)).toBeGreaterThan(0);
    expect(bar.h.size).toBeDefined();
    expectWithin(bar.v(bar.h.estimated), 0.2, ROUNDOFF);
  });
  it('turns a given preload into the hand force, and the other way round, through one mechanism', () => {
    const asked = of(
      fixtureModel(undefined, withBar('{principle: face_toggle, preload: 3 kN, lever: 100 mm}')),
      'bar_hinge',
    );
    expectWithin(asked.v(asked.h.preload), 3000, ROUNDOFF);
    const hand = asked.v(asked.h.handForce);
    expect(hand).toBeGreaterThan(20);
    const back = of(
      fixtureModel(undefined, withBar(`{principle: face_toggle, hand_force: ${hand} N, lever: 100 mm}`)),
      'bar_hinge',
    );
    expectWithin(back.v(back.h.preload), 3000, { relative: 1e-9 });
    const longer = of(
      fixtureModel(undefined, withBar('{principle: face_toggle, preload: 3 kN, lever: 200 mm}')),
      'bar_hinge',
    );
    expectWithin(longer.v(longer.h.handForce), hand / 2, { relative: 1e-9 });
  });
  it('scales with its face: twice the size, eight times the bending stiffness, twice the pull', () => {
    const small = of(fixtureModel(undefined, withBar('{principle: hook_lever, face: [30, 40 mm]}')), 'bar_hinge');
    const large = of(fixtureModel(undefined, withBar('{principle: hook_lever, face: [60, 80 mm]}')), 'bar_hinge');
    for (const name of ['bendAcross', 'bendAlong', 'twist'] as const)
      expectWithin(large.v(large.h[name]), 8 * small.v(small.h[name]), ROUNDOFF);
    for (const name of ['pull', 'shearAcross', 'shearAlong'] as const)
      expectWithin(large.v(large.h[name]), 2 * small.v(small.h[name]), ROUNDOFF);
    expectWithin(large.v(large.h.opens[0]!.arm), 2 * small.v(small.h.opens[0]!.arm), ROUNDOFF);
  });
  it('follows the dimensions of the file while they vary', () => {
    const yaml = withBar('{principle: hook_lever, face: [wheelbase / 20, 40 mm]}');
    const c = fixtureModel(undefined, yaml);
    const x = c.model.x.slice();
    const k = of(c, 'bar_hinge').v(of(c, 'bar_hinge').h.bendAcross);
    x[c.model.top.names.dimensions.indexOf('wheelbase')]! *= 1.1;
    const grown = of(c, 'bar_hinge', x);
    expectWithin(grown.v(grown.h.bendAcross), k * Math.sqrt(1.1) * 1.1 * 1.1, ROUNDOFF);
  });
  it('without face or shape takes the largest tube that ends at the joint, else its own reference', () => {
    const bar = of(fixtureModel(undefined, withBar('{principle: hook_lever}')), 'bar_hinge');
    expect(bar.v(bar.h.face[0])).toBeGreaterThan(0.02);
    expect(bar.v(bar.h.face[0])).toBeLessThan(0.08);
  });
  it('yields to anything given explicitly', () => {
    const bar = of(
      fixtureModel(
        undefined,
        withBar(
          '{principle: face_toggle, shape: box 50 x 44 x 50 mm, mass: 0.3 kg, stiffness: {twist: 7 kN.m/rad}, open: 40 %, play: 0.1 deg, actions: 3}',
        ),
      ),
      'bar_hinge',
    );
    expectWithin(bar.v(bar.h.mass), 0.3, ROUNDOFF);
    expectWithin(bar.v(bar.h.twist), 7000, ROUNDOFF);
    expectWithin(bar.v(bar.h.openShare), 0.4, ROUNDOFF);
    expectWithin(bar.v(bar.h.play), (0.1 * Math.PI) / 180, ROUNDOFF);
    expect(bar.h.actions).toBe(3);
    expect(bar.h.estimated).toBe(-1);
  });
  it('that is unknown is answered with the nearest, one that does not suit the kind with those that do', () => {
    const [unknown] = problems(withBar('{principle: face_togle}'));
    expect(unknown).toMatchObject({ code: 'name.unknown', found: 'face_togle', hint: 'did you mean `face_toggle`?' });
    const [misfit] = problems(withBar('{principle: collet_post}'));
    expect(misfit!.code).toBe('value.choice');
    expect(misfit!.expected).toContain('hook_lever');
  });
  it('that cannot do what is asked says so at the field', () => {
    const found = problems(withBar('{principle: face_toggle, preload: 400 kN}'));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ code: 'value.range', found: '400 kN' });
    expect(found[0]!.message).toMatch(/travel/);
    expect(problems(withBar('{principle: face_toggle, lever: -5 mm}')).map((p) => p.code)).toContain('value.range');
    expect(problems(withBar('{principle: face_toggle, open: 130 %}'))[0]!.message).toMatch(/100 %|cannot be/);
  });
});

describe('the joint shelf', () => {
  it('has at least twelve locking principles, each complete, in order low ≤ typical ≤ high', () => {
    expect(JOINT_SHELF.filter((p) => p.actions > 0).length).toBeGreaterThanOrEqual(12);
    for (const p of JOINT_SHELF) {
      const ranges = [
        p.openShare,
        p.lever,
        p.hand,
        p.stack,
        p.clearance,
        p.mass,
        p.price,
        ...Object.values(p.stiffness),
      ];
      for (const [key, r] of [...Object.entries(p.wear), ...ranges.map((r, i) => [`${i}`, r] as const)])
        expect(r.low <= r.typical && r.typical <= r.high, `${p.name} ${key}`).toBe(true);
      expect(p.failures.length, p.name).toBeGreaterThanOrEqual(2);
      expect(p.secondCatch.length, p.name).toBeGreaterThan(3);
      expect(p.source, p.name).toBe('default, from memory');
      expect(p.suits.length * p.held.length, p.name).toBeGreaterThan(0);
      for (const way of p.opens) expect(p.stiffness[way.component], `${p.name} ${way.component}`).toBeDefined();
    }
    expect(new Set(JOINT_SHELF.map((p) => p.name)).size).toBe(JOINT_SHELF.length);
  });
  it('can be named for each kind that it says it suits', () => {
    for (const p of JOINT_SHELF.filter((q) => q.suits.includes('pivot')))
      expect(
        problems(withBar(`{principle: ${p.name}}`)).map((x) => x.message),
        p.name,
      ).toEqual([]);
  });
});
