import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { rotationAbout, type Vec3 } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';
import { combine, moved, type RigidMass } from './rigid-mass.ts';
import { boxMass, discMass } from './shapes.ts';
import { massInto, massTotals, newMassBuffer, rigidAt } from './totals.ts';
import { tubeMass } from './tube.ts';
import { applyWeighed, scaleMasses } from './weighed.ts';

const ELEMENTS: readonly RigidMass[] = [
  tubeMass(0.05, 0.002, [0.4, 0, 0.3], [0.6, 0, 0.5], 2700),
  boxMass(0.4, [0.06, 0.045, 0.07], [0.6, 0.02, 0.5]),
  discMass(1.6, 0.24, 0.04, [0, 0, 0.24], [0, 1, 0]),
  discMass(1.2, 0.24, 0.04, [1, 0, 0.24], [0, 1, 0]),
  tubeMass(0.04, 0.002, [0.6, 0, 0.5], [0.9, 0.02, 0.7], 2700),
];
const BODY = Int32Array.of(0, 0, 0, 1, 1);
const SPREAD = Float64Array.of(0.02, 0.1, 0.1, 0.1, 0.02);

function fixture(): { m: Model; s: State } {
  const bodyT = new Float64Array(24);
  bodyT[0] = bodyT[5] = bodyT[10] = bodyT[12] = bodyT[17] = bodyT[22] = 1;
  const mass = Float64Array.from(ELEMENTS.flatMap((e) => [e.mass, ...e.com, ...e.inertia]));
  const m = {
    top: {
      bodyCount: 2,
      massBody: BODY,
      massGroup: ['frame', 'frame', 'wheels', 'wheels', 'frame'],
      names: { bodies: ['rear', 'front'], masses: ['beam', 'hinge', 'rear_wheel', 'front_wheel', 'front_beam'] },
    },
    massSpread: SPREAD,
  } as unknown as Model;
  return { m, s: { mass, bodyT } as unknown as State };
}
const square = (x: number): number => x * x;
const trace = (r: RigidMass): number => r.inertia[0] + r.inertia[1] + r.inertia[2];

describe('totals', () => {
  it('agree with summing the elements one by one', () => {
    const { m, s } = fixture();
    const t = massTotals(m, s);
    const all = combine(ELEMENTS);
    expectWithin(t.whole.mass, all.mass, { relative: 1e-14 });
    for (let k = 0; k < 3; k++) expectWithin(t.whole.com[k]!, all.com[k]!, { absolute: 1e-14 });
    for (let k = 0; k < 6; k++) expectWithin(t.whole.inertia[k]!, all.inertia[k]!, { absolute: 1e-13 });
    expectWithin(
      t.groups.reduce((a, g) => a + g.mass, 0),
      t.whole.mass,
      { relative: 1e-14 },
    );
    expectWithin(
      t.bodies.reduce((a, b) => a + b.mass, 0),
      t.whole.mass,
      { relative: 1e-14 },
    );
    expect(t.groups.map((g) => g.name)).toEqual(['wheels', 'frame']);
  });
  it('keep every mass and every principal inertia over the fold, and carry the CoM with its body', () => {
    const { m, s } = fixture();
    const ride = massTotals(m, s);
    fc.assert(
      fc.property(
        fc.tuple(
          fc.double({ min: -1, max: 1, noNaN: true }),
          fc.double({ min: -1, max: 1, noNaN: true }),
          fc.double({ min: -1, max: 1, noNaN: true }),
        ),
        fc.double({ min: -3.1, max: 3.1, noNaN: true }),
        (a, angle) => {
          const n = Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]);
          fc.pre(n > 0.1);
          const axis: Vec3 = [a[0] / n, a[1] / n, a[2] / n];
          rotationAbout(0.6, 0, 0.5, ...axis, angle, s.bodyT, 12);
          const t = massTotals(m, s);
          expectWithin(t.whole.mass, ride.whole.mass, { relative: 1e-15 });
          expectWithin(trace(t.bodies[1]!.rigid), trace(ride.bodies[1]!.rigid), { relative: 1e-12 });
          const body = moved(combine([ELEMENTS[3]!, ELEMENTS[4]!]), s.bodyT, 12);
          for (let k = 0; k < 3; k++) expectWithin(t.bodies[1]!.rigid.com[k]!, body.com[k]!, { absolute: 1e-14 });
          for (let k = 0; k < 6; k++)
            expectWithin(t.bodies[1]!.rigid.inertia[k]!, body.inertia[k]!, { absolute: 1e-13 });
        },
      ),
      { numRuns: 100, seed: 3 },
    );
  });
  it('write the same numbers without allocation', () => {
    const { m, s } = fixture();
    rotationAbout(0.6, 0, 0.5, 0, 0, 1, 2.5, s.bodyT, 12);
    const buffer = newMassBuffer(2);
    massInto(m.top, s, buffer);
    massInto(m.top, s, buffer);
    expect(rigidAt(buffer.whole)).toEqual(massTotals(m, s).whole);
  });
  it('leave a body without mass out of the whole', () => {
    const { m, s } = fixture();
    const three = {
      ...m,
      top: { ...m.top, bodyCount: 3, names: { ...m.top.names, bodies: ['rear', 'front', 'empty'] } },
    };
    const bodyT = new Float64Array(36);
    bodyT.set(s.bodyT);
    bodyT[24] = bodyT[29] = bodyT[34] = 1;
    const t = massTotals(three as Model, { ...s, bodyT });
    expect(t.bodies[2]!.mass).toBe(0);
    expectWithin(t.whole.mass, combine(ELEMENTS).mass, { relative: 1e-14 });
  });
  it('add independent uncertainties as squares', () => {
    const { m, s } = fixture();
    const byHand = Math.sqrt(ELEMENTS.reduce((a, e, i) => a + square(e.mass * SPREAD[i]!), 0));
    expectWithin(massTotals(m, s).sigma, byHand, { relative: 1e-14 });
  });
});

describe('weighings', () => {
  const weigh = (...w: { name: string; mass: number; spread: number }[]) => {
    const { m, s } = fixture();
    const r = applyWeighed(m.top.names.bodies, BODY, s.mass, SPREAD, w);
    scaleMasses(s.mass, r.factor);
    return { r, t: massTotals({ ...m, massSpread: r.spread } as Model, s) };
  };
  it('override a body exactly, with its own spread, and leave CoM and the other body alone', () => {
    const { r, t } = weigh({ name: 'rear', mass: 2.5, spread: 0.02 });
    expectWithin(t.bodies[0]!.mass, 2.5, { relative: 1e-14 });
    expectWithin(t.bodies[0]!.sigma, 0.02, { relative: 1e-12 });
    expectWithin(t.bodies[0]!.rigid.com[2], combine(ELEMENTS.slice(0, 3)).com[2], { absolute: 1e-14 });
    expectWithin(t.bodies[1]!.mass, combine(ELEMENTS.slice(3)).mass, { relative: 1e-14 });
    const predicted = combine(ELEMENTS.slice(0, 3)).mass;
    expectWithin(r.checks[0]!.predicted, predicted, { relative: 1e-14 });
    expect(Math.sign(r.checks[0]!.off)).toBe(Math.sign(2.5 - predicted));
  });
  it('with a total put the rest on the bodies that were not weighed, never understating the total', () => {
    const { t } = weigh({ name: 'total', mass: 5, spread: 0.05 }, { name: 'rear', mass: 2.5, spread: 0.02 });
    expectWithin(t.whole.mass, 5, { relative: 1e-14 });
    expectWithin(t.bodies[1]!.mass, 2.5, { relative: 1e-14 });
    expect(t.sigma).toBeGreaterThanOrEqual(0.05);
    expectWithin(t.sigma, Math.sqrt(square(0.05) + 2 * square(0.02)), { relative: 1e-12 });
  });
  it('of the total alone have the weighed spread', () => {
    expectWithin(weigh({ name: 'total', mass: 5, spread: 0.05 }).t.sigma, 0.05, { relative: 1e-12 });
  });
  it('that cannot be true are conflicts and change nothing', () => {
    for (const w of [
      [{ name: 'middle', mass: 1, spread: 0.1 }],
      [{ name: 'rear', mass: 0, spread: 0.1 }],
      [{ name: 'rear', mass: Number.NaN, spread: 0.1 }],
    ]) {
      const { r, t } = weigh(...w);
      expect(r.conflicts).toHaveLength(1);
      expectWithin(t.whole.mass, combine(ELEMENTS).mass, { relative: 1e-14 });
    }
    const { r } = weigh({ name: 'total', mass: 2, spread: 0.1 }, { name: 'rear', mass: 2.5, spread: 0.1 });
    expect(r.conflicts.map((c) => c.name)).toEqual(['total']);
  });
});
