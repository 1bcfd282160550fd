import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import type { RigidMass } from '../mass/rigid-mass.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { cross, dot, norm, rotationAbout, sub, unit, type Vec3 } from '../math/rigid.ts';
import {
  edgeFactor,
  type FoldedHolder,
  firstMomentRate,
  freedomBetween,
  HOLD_ASSUMPTIONS,
  holdMargins,
  treeFreedom,
} from './hold.ts';

const ROUNDOFF = 1e-12;
/** The best direction of gravity and the best mix are searched to about 1e-6 rad; the maximum is flat there. */
const SEARCH = 1e-9;
const mass = (m: number, com: Vec3): RigidMass => ({ mass: m, com, inertia: [0.1, 0.1, 0.1, 0, 0, 0] });
const hinge = treeFreedom('main', 2, [1], [0.4, 0, 0.3], [0, 0, 1], false, -1);
const bodies = [mass(7, [0, 0, 0.3]), mass(5, [0.1, 0.2, 0.3])];
const hand = { heldBody: 0, handle: [0, 0, 0.7] as Vec3, rollingUp: [0, 0, 1] as Vec3 };
const holder = (force: number, point: Vec3 = [0.1, 0.2, 0.3]): FoldedHolder => ({
  name: 'catch',
  kind: 'catch',
  bodies: [0, 1],
  point,
  force,
});

describe('opening moment of one hinge', () => {
  it('in the worst attitude is weight times lever, whatever the reference body', () => {
    const lever = Math.sqrt(0.3 * 0.3 + 0.2 * 0.2);
    const r = holdMargins([hinge], [holder(60)], bodies, hand);
    const any = r.margins.find((m) => m.situation === 'any attitude');
    expectWithin(any!.opening, 5 * STANDARD_GRAVITY * lever, { relative: ROUNDOFF });
    expectWithin(any!.holding, 60 * lever, { relative: ROUNDOFF });
    // Held by the other half, the first one swings: the same joint, its own mass and lever.
    const other = holdMargins([hinge], [holder(60)], bodies, { ...hand, heldBody: 1 });
    expectWithin(other.margins.find((m) => m.situation === 'any attitude')!.opening, 7 * STANDARD_GRAVITY * 0.4, {
      relative: ROUNDOFF,
    });
  });

  it('no direction of gravity on a sphere opens it more than the one named', () => {
    const any = holdMargins([hinge], [holder(60)], bodies, hand).margins.find((m) => m.situation === 'any attitude')!;
    for (let i = 0; i < 2000; i++) {
      const z = 1 - (2 * i + 1) / 2000;
      const a = 2.399963 * i;
      const k = Math.sqrt(1 - z * z);
      const down: Vec3 = [k * Math.cos(a), k * Math.sin(a), z];
      // −1 opens: the moment of the weight of body 1 about the axis, with that sign.
      const moment = -dot(cross(sub(bodies[1]!.com, [0.4, 0, 0.3]), down), [0, 0, 1]) * 5 * STANDARD_GRAVITY;
      expect(moment).toBeLessThanOrEqual(any.opening * (1 + ROUNDOFF));
    }
  });

  it('an upright hinge that hangs straight is opened only by the sway', () => {
    const straight = { ...hand, handle: [5 / 12 / 10, 1 / 12, 0.9] as Vec3 };
    const still = holdMargins([hinge], [], bodies, straight, { ...HOLD_ASSUMPTIONS, sway: 0 });
    const carried = still.margins.find((m) => m.situation === 'carried')!;
    expectWithin(carried.opening, 0, { absolute: 1e-12 });
    const swaying = holdMargins([hinge], [], bodies, straight).margins.find((m) => m.situation === 'carried')!;
    const lever = Math.sqrt(0.13);
    expectWithin(swaying.opening, 1.5 * 5 * STANDARD_GRAVITY * lever * Math.sin(Math.PI / 6), { relative: 1e-9 });
  });

  it('an edge of 30 mm on tyres that yield 15 mm weighs six times', () => {
    expectWithin(edgeFactor(0.03, 0.015), 6, { relative: ROUNDOFF });
    // Energy check: a linear spring with that peak over that travel takes up the whole fall.
    expectWithin((edgeFactor(0.03, 0.015) * 0.015) / 2, 0.03 + 0.015, { relative: ROUNDOFF });
    const rolled = holdMargins([hinge], [], bodies, hand).margins.find((m) => m.situation === 'rolled over an edge')!;
    expectWithin(rolled.opening, 6 * 5 * STANDARD_GRAVITY * Math.sqrt(0.13) * 0.5, { relative: 1e-9 });
  });
});

describe('what holds', () => {
  it('a catch on the axis of the hinge holds nothing', () => {
    const r = holdMargins([hinge], [holder(60, [0.4, 0, 0.8])], bodies, hand);
    expectWithin(r.least!.ratio, 0, { absolute: ROUNDOFF });
    expect(r.least!.holders).toEqual([]);
  });

  it('friction is told apart: it holds and the margin is still negative', () => {
    const friction: FoldedHolder = { name: 'washer', kind: 'friction', bodies: [0, 1], point: [0, 0, 0], force: 200 };
    const r = holdMargins([hinge], [friction], bodies, hand);
    expect(r.least!.reliesOnFriction).toBe(true);
    expect(r.least!.margin).toBeLessThan(0);
    expectWithin(r.least!.friction, 200, { relative: ROUNDOFF });
  });

  it('with everything locked nothing is free and there is no margin to state', () => {
    expect(holdMargins([], [holder(60)], bodies, hand).least).toBeUndefined();
  });

  it('two joints that move together past one strap are found although each alone is held', () => {
    // Two parallel hinges fold like a parallelogram's two sides: opposite turns of equal size leave the strap's point still.
    const three = [mass(5, [0, 0, 0]), mass(2, [0.2, 0.1, 0]), mass(3, [0.2, 0.3, 0])];
    const a = treeFreedom('first', 3, [1, 2], [0, 0, 0], [0, 0, 1], false, 0);
    const b = treeFreedom('second', 3, [2], [0.4, 0, 0], [0, 0, 1], false, 0);
    const point: Vec3 = [0.2, 0, 0];
    const strap: FoldedHolder = { name: 'strap', kind: 'strap', bodies: [0, 2], point, force: 200 };
    const r = holdMargins([a, b], [strap], three, { heldBody: 0, handle: undefined, rollingUp: undefined });
    const alone = r.margins.filter((m) => m.freedoms.length === 1);
    expect(Math.min(...alone.map((m) => m.ratio))).toBeGreaterThan(1);
    expect(r.least!.freedoms).toEqual(['first', 'second']);
    // At the point, 0.2·(turn of a) up and −0.2·(turn of b): equal turns of one sense cancel.
    expectWithin(r.least!.mix[0]! / r.least!.mix[1]!, 1, { absolute: 1e-5 });
    expect(r.least!.ratio).toBeLessThan(1e-4);
  });
});

describe('freedoms', () => {
  it('from two nearby postures equal those of the axis', () => {
    const step = 1e-4;
    const pose = (angle: number): Float64Array => {
      const t = new Float64Array(24);
      rotationAbout(0, 0, 0, 0, 0, 1, 0, t, 0);
      const axis = unit([0.1, 0.2, 1]);
      rotationAbout(0.4, 0, 0.3, axis[0], axis[1], axis[2], angle, t, 12);
      return t;
    };
    // Rates of posed bodies: the ride posture's points moved to the folded angle 2.5 rad.
    const found = freedomBetween('main', pose(2.5 - step / 2), pose(2.5 + step / 2), step, -1);
    const known = treeFreedom('main', 2, [1], [0.4, 0, 0.3], unit([0.1, 0.2, 1]), false, -1);
    known.rates.forEach((v, i) => {
      expectWithin(found.rates[i]!, v, { absolute: 1e-8 });
    });
  });

  it('a whole that is carried round has no rate of its first moment', () => {
    const all = treeFreedom('whole', 2, [0, 1], [0.4, 0, 0.3], [0, 0, 1], false, 1);
    const w = firstMomentRate(all.rates, [mass(3, [0.1, 0.2, 0]), mass(3, [0.1, 0.2, 0])], 0);
    expectWithin(norm(w), 0, { absolute: SEARCH });
  });
});
