import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { beamYaml, fixtureModel } from '../../../test/fixtures/beam.ts';
import { jointLaws } from './joint-laws.ts';

const ROUNDOFF = { relative: 1e-12 };
const laws = (joint: string, ...changes: readonly (readonly [string, string])[]) => {
  const c = fixtureModel(undefined, beamYaml(...changes));
  const s = c.model.newState();
  c.model.fill(c.model.x, s);
  const j = c.model.top.names.joints.indexOf(joint);
  return { laws: jointLaws(c, s, j), h: c.hardware[j]!, v: s.value };
};

describe('laws of joints', () => {
  it('of a preloaded face hinge: opens towards the fold at preload × arm, both ways across, apart at the preload', () => {
    const { laws: l, h, v } = laws('main');
    expectWithin(l[5].closed, 35e6, ROUNDOFF);
    expect(l[5].opens).toBe(1);
    expectWithin(l[5].preload!, 2500 * 1e3 * v[h.opens[0]!.arm]!, ROUNDOFF);
    expectWithin(l[5].play!, (0.02 * Math.PI) / 180, ROUNDOFF);
    expect(l[4].opens).toBe(0);
    expectWithin(l[0].preload!, 2500, ROUNDOFF);
    expect(l[0].opens).toBe(1);
    expectWithin(l[0].closed, 80e3, ROUNDOFF);
    expect(l[1]).toEqual({ closed: l[1].closed });
  });
  it('of a hinge without preload that says what is left when open: two slopes', () => {
    const { laws: l } = laws('bar_hinge', ['mass: 0.3 kg, hand_force: 50 N', 'mass: 0.3 kg, open: 30 %']);
    expectWithin(l[5].open!, 0.3 * l[5].closed, ROUNDOFF);
    expect(l[5].preload).toBe(0);
    expect(l[5].opens).toBe(-1);
  });
  it('of a post: pull and twist along and about its axis, play across', () => {
    const { laws: l } = laws('post_clamp', [
      'mass: 0.14 kg, hand_force: 40 N',
      'mass: 0.14 kg, play: 0.05 mm, stiffness: {pull: 40 kN/mm, twist: 4 kN.m/rad}',
    ]);
    expectWithin(l[2].closed, 40e3, ROUNDOFF);
    expectWithin(l[5].closed, 4e6, ROUNDOFF);
    expectWithin(l[0].play!, 0.05, ROUNDOFF);
  });
  it('of steerer and cranks: bearings that turn freely', () => {
    for (const joint of ['steering', 'cranks']) {
      const { laws: l } = laws(joint);
      expect(l[5].closed).toBe(0);
      expect(l[4].closed).toBeGreaterThan(1e7);
    }
  });
});
