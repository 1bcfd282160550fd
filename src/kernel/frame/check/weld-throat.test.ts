import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { TubeSize } from '../section/tube-section.ts';
import { CheckRefusal } from './refusal.ts';
import { aluminiumWeld, filletRing, steelWeld } from './weld-throat.ts';

const tube: TubeSize = { shape: 'round', height: 40, width: 40, wall: 2 };
const S235 = steelWeld(360, 0.8);
/** Line formulas of a thin ring against a ring of finite throat: (a/d)². */
const RING = 5e-3;

describe('fillet weld all round', () => {
  it('agrees with the line formulas of a circle: N/πda, 4M/πd²a, 2T/πd²a', () => {
    const d = 40;
    const a = 2;
    const pull = filletRing(tube, a, [10_000, 0, 0, 0, 0, 0], S235);
    expectWithin(pull.across, 10_000 / (Math.PI * d * a) / Math.SQRT2, { relative: RING });
    expectWithin(pull.equivalent, 2 * pull.across, { relative: 1e-12 });
    const bend = filletRing(tube, a, [0, 0, 0, 0, 3e5, 4e5], S235);
    expectWithin(bend.across * Math.SQRT2, (4 * 5e5) / (Math.PI * d * d * a), { relative: RING });
    const twist = filletRing(tube, a, [0, 0, 0, 3e5, 0, 0], S235);
    expectWithin(twist.along, (2 * 3e5) / (Math.PI * d * d * a), { relative: 1e-12 });
    expectWithin(twist.directional, twist.simplified, { relative: 1e-12 });
    const shear = filletRing(tube, a, [0, 3000, 4000, 0, 0, 0], S235);
    expectWithin(shear.along, (2 * 5000) / (Math.PI * d * a), { relative: RING });
  });

  it('is judged more strictly by the simplified method across the weld: √(3/2)', () => {
    const pull = filletRing(tube, 2, [10_000, 0, 0, 0, 0, 0], aluminiumWeld(190));
    expectWithin(pull.simplified / pull.directional, Math.sqrt(1.5), { relative: 1e-12 });
  });

  it('of a box is bent by both moments at its corner', () => {
    const box: TubeSize = { shape: 'rectangular', height: 60, width: 30, wall: 2 };
    const one = filletRing(box, 2, [0, 0, 0, 0, 0, 1e5], S235).across;
    const other = filletRing(box, 2, [0, 0, 0, 0, 1e5, 0], S235).across;
    expectWithin(filletRing(box, 2, [0, 0, 0, 0, 1e5, -1e5], S235).across, one + other, { relative: 1e-12 });
    // Line formula: I/a = h³/6 + w h²/2
    expectWithin(one * Math.SQRT2, (1e5 * 30) / (2 * (60 ** 3 / 6 + (30 * 60 ** 2) / 2)), { relative: RING });
  });

  it('refuses a throat that is none', () => {
    expect(() => filletRing(tube, 0, [1, 0, 0, 0, 0, 0], S235)).toThrow(CheckRefusal);
    expect(() => filletRing(tube, 50, [1, 0, 0, 0, 0, 0], S235)).toThrow(CheckRefusal);
  });
});
