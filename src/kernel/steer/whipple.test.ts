import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { BENCHMARK as SAMPLE } from '../../../verification/steer/bicycles.ts';
import { combine } from '../mass/rigid-mass.ts';
import { whippleFromBicycle } from './assemble.ts';
import { inverseMass, whipple, whippleCautions } from './whipple.ts';

describe('the Carvallo–Whipple model', () => {
  it('multiplies its inverse mass matrix to the identity', () => {
    const { M } = whipple(SAMPLE);
    const N = inverseMass(whipple(SAMPLE));
    expectWithin(M[0] * N[0] + M[1] * N[2], 1, { absolute: 1e-14 });
    expectWithin(M[0] * N[1] + M[1] * N[3], 0, { absolute: 1e-13 });
    expectWithin(M[2] * N[1] + M[3] * N[3], 1, { absolute: 1e-14 });
  });

  it('scales as its dimensions say: twice the mass doubles every matrix', () => {
    const twice = <T extends { mass: number }>(b: T, inertia: object): T => ({ ...b, mass: 2 * b.mass, ...inertia });
    const s = SAMPLE;
    const heavy = whipple({
      ...s,
      rearWheel: twice(s.rearWheel, { Ixx: 2 * s.rearWheel.Ixx, Iyy: 2 * s.rearWheel.Iyy }),
      frontWheel: twice(s.frontWheel, { Ixx: 2 * s.frontWheel.Ixx, Iyy: 2 * s.frontWheel.Iyy }),
      rearBody: twice(s.rearBody, { inertia: s.rearBody.inertia.map((x) => 2 * x) }),
      frontBody: twice(s.frontBody, { inertia: s.frontBody.inertia.map((x) => 2 * x) }),
    });
    const light = whipple(s);
    for (const name of ['M', 'C1', 'K0', 'K2'] as const)
      heavy[name].forEach((x, i) => {
        expectWithin(x, 2 * light[name][i]!, { relative: 1e-14 });
      });
  });

  it.each([
    ['wheelbase', { wheelbase: 0 }],
    ['wheelbase', { wheelbase: NaN }],
    ['trail', { trail: Infinity }],
    ['headAngle', { headAngle: 4 }],
    ['gravity', { gravity: -9.81 }],
    ['rearWheel.radius', { rearWheel: { ...SAMPLE.rearWheel, radius: -0.3 } }],
    ['frontWheel.mass', { frontWheel: { ...SAMPLE.frontWheel, mass: -1 } }],
    ['frontWheel.Iyy', { frontWheel: { ...SAMPLE.frontWheel, Iyy: NaN } }],
    ['rearBody.mass', { rearBody: { ...SAMPLE.rearBody, mass: -1 } }],
    ['rearBody.Ixz', { rearBody: { ...SAMPLE.rearBody, inertia: [1, NaN, 1, 0, -2.4, 0] as const } }],
    ['frontBody.z', { frontBody: { ...SAMPLE.frontBody, com: [0.9, 0, NaN] as const } }],
  ])('refuses an impossible %s', (path, change) => {
    expect(() => whipple({ ...SAMPLE, ...change })).toThrow(expect.objectContaining({ path }));
  });

  it('answers for a wheel that no one can build, and says so', () => {
    const odd = { ...SAMPLE, frontWheel: { ...SAMPLE.frontWheel, Iyy: 0.35 } };
    expect(whippleCautions(SAMPLE)).toEqual([]);
    expect(whippleCautions(odd)).toHaveLength(1);
    expect(whipple(odd).terms.SF).toBeGreaterThan(whipple(SAMPLE).terms.SF);
  });
});

describe('assembling the model from a bicycle', () => {
  const up = [-Math.cos(SAMPLE.headAngle), 0, Math.sin(SAMPLE.headAngle)] as const;
  const rider = { mass: 70, com: [0.28, 0, 1.0] as const, inertia: [7, 8, 2, 0, -1.5, 0] as const };
  const frame = { mass: 15, com: [0.4, 0.01, 0.5] as const, inertia: [0.5, 1, 0.6, 0, -0.05, 0] as const };
  const at = (dx: number) => ({
    rear: { ...frame, com: [frame.com[0] + dx, frame.com[1], frame.com[2]] as const },
    front: { ...SAMPLE.frontBody, com: [0.9 + dx, 0, 0.7] as const },
    rearWheel: SAMPLE.rearWheel,
    frontWheel: SAMPLE.frontWheel,
    rearHub: [dx, 0, 0.3] as const,
    frontHub: [1.02 + dx, 0, 0.35] as const,
    steerer: {
      point: [1.1 + dx - 0.9 * Math.cos(SAMPLE.headAngle), 0, 0.9 * Math.sin(SAMPLE.headAngle)] as const,
      axis: up,
    },
    gravity: 9.81,
  });
  const seated = (dx: number) => ({ ...rider, com: [rider.com[0] + dx, 0, rider.com[2]] as const });

  it('finds wheelbase, trail and head angle, and adds the rider to the rear frame', () => {
    const { bicycle, lateral } = whippleFromBicycle(at(0), rider);
    expectWithin(bicycle.wheelbase, 1.02, { relative: 1e-14 });
    expectWithin(bicycle.trail, 0.08, { relative: 1e-13 });
    expectWithin(bicycle.headAngle, SAMPLE.headAngle, { relative: 1e-14 });
    expect(bicycle.rearBody).toEqual(combine([frame, rider]));
    expectWithin(lateral, (15 * 0.01) / (15 + 70 + 4 + 2 + 3), { relative: 1e-12 });
  });

  it('does not depend on where the origin lies', () => {
    const here = whipple(whippleFromBicycle(at(0), rider).bicycle);
    const there = whipple(whippleFromBicycle(at(-3), seated(-3)).bicycle);
    for (const name of ['M', 'C1', 'K0', 'K2'] as const)
      there[name].forEach((x, i) => {
        expectWithin(x, here[name][i]!, { relative: 1e-11, absolute: 1e-13 });
      });
  });

  it('refuses a front hub behind the rear one', () => {
    expect(() => whippleFromBicycle({ ...at(0), frontHub: [-0.1, 0, 0.35] })).toThrow(
      expect.objectContaining({ path: 'frontHub' }),
    );
  });
});
