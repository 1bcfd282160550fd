import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { aheadFromAbove, pedalLean, pedalToWheel, type TurningWheel } from './pedal-room.ts';

const DEG = Math.PI / 180;
const wheel: fc.Arbitrary<TurningWheel> = fc
  .record({
    x: fc.double({ min: 0.5, max: 0.8, noNaN: true }),
    radius: fc.double({ min: 0.15, max: 0.36, noNaN: true }),
    halfWidth: fc.double({ min: 0, max: 0.03, noNaN: true }),
    head: fc.double({ min: 65, max: 80, noNaN: true }),
    offset: fc.double({ min: 0, max: 0.08, noNaN: true }),
  })
  .map(({ x, radius, halfWidth, head, offset }) => {
    const [c, s] = [Math.cos(head * DEG), Math.sin(head * DEG)];
    return {
      centre: [x, 0, radius],
      radius,
      halfWidth,
      point: [x - offset * s, 0, radius - offset * c],
      axis: [-c, 0, s],
    };
  });
const PEDAL: Vec3 = [0.17, 0.115, 0.29];

/** Every point of both rims turned by Rodrigues' formula written out; the rearmost within `slab` of the pedal's plane. */
function bruteForce(w: TurningWheel, angle: number, points: number, slab: number): number {
  const [kx, , kz] = w.axis;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  let least = Number.POSITIVE_INFINITY;
  for (const y of [-w.halfWidth, w.halfWidth])
    for (let i = 0; i < points; i++) {
      const a = (2 * Math.PI * i) / points;
      const v = [
        w.centre[0] + w.radius * Math.cos(a) - w.point[0],
        y,
        w.centre[2] + w.radius * Math.sin(a) - w.point[2],
      ] as const;
      const d = kx * v[0] + kz * v[2];
      const px = w.point[0] + v[0] * c + -kz * v[1] * s + kx * d * (1 - c);
      const py = v[1] * c + (kz * v[0] - kx * v[2]) * s;
      if (Math.abs(py - PEDAL[1]) < slab && px < least) least = px;
    }
  return least - PEDAL[0];
}

describe('the way from a pedal to the turned front wheel', () => {
  it('is that of the nearest of many points of the rim', () => {
    fc.assert(
      fc.property(wheel, fc.double({ min: -60, max: -20, noNaN: true }), (w, degrees) => {
        const exact = aheadFromAbove(PEDAL, w, degrees * DEG);
        const slab = 5e-4;
        const found = bruteForce(w, degrees * DEG, 40_000, slab);
        if (!Number.isFinite(exact)) return;
        // points within the slab may lie a little nearer, by the rim's slope there; a grazing rim has none to speak of
        if (Number.isFinite(found)) expectWithin(found, exact, { absolute: 0.02 }, { w, degrees });
        expect(found).toBeGreaterThan(exact - 0.02);
      }),
      { numRuns: 60, seed: 8 },
    );
  });

  it('is the least over the whole range, found to a hundredth of a millimetre', () => {
    fc.assert(
      fc.property(wheel, (w) => {
        const { gap } = pedalToWheel(PEDAL, w, 60 * DEG);
        let least = Number.POSITIVE_INFINITY;
        for (let a = -60; a <= 60; a += 0.013) least = Math.min(least, aheadFromAbove(PEDAL, w, a * DEG));
        if (Number.isFinite(least)) expectWithin(Math.max(0, gap - least), 0, { absolute: 1e-5 }, w);
      }),
      { numRuns: 20, seed: 9 },
    );
  });

  it('refuses a steering axis without direction, and a pedal on the mid-plane', () => {
    const bad = { centre: [0, 0, 0], radius: 0.2, halfWidth: 0, point: [0, 0, 0], axis: [0, 0, 0] } as const;
    expect(() => pedalToWheel(PEDAL, { ...bad, centre: [0, 0, 0], point: [0, 0, 0], axis: [0, 0, 0] }, 1)).toThrow(
      RangeError,
    );
    expect(() => pedalLean(0.28, 0.17, 0.015, 0)).toThrow(RangeError);
  });
});
