import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { shearCoefficient } from './shear-area.ts';
import { beamSection, massPerMetre, type TubeSize, tubeProperties } from './tube-section.ts';

/** Sums and quotients of a dozen terms. */
const EXACT = 1e-12;

const size: fc.Arbitrary<TubeSize> = fc
  .record({
    shape: fc.constantFrom('round' as const, 'oval' as const, 'rectangular' as const),
    height: fc.double({ min: 15, max: 90, noNaN: true }),
    width: fc.double({ min: 15, max: 90, noNaN: true }),
    share: fc.double({ min: 0.03, max: 1, noNaN: true }),
  })
  .map(({ shape, height, width, share }) => {
    const w = shape === 'round' ? height : width;
    return { shape, height, width: w, wall: (share * Math.min(height, w)) / 2 };
  });

describe('tube sections', () => {
  it('turned by 90° swap their axes and keep area and torsion', () => {
    fc.assert(
      fc.property(size, (s) => {
        const a = tubeProperties(s, 0.33);
        const b = tubeProperties({ ...s, height: s.width, width: s.height }, 0.33);
        for (const [x, y] of [
          [a.iy, b.iz],
          [a.asy, b.asz],
          [a.wy, b.wz],
          [a.zy, b.zz],
          [a.peakY, b.peakZ],
          [a.area, b.area],
          [a.j, b.j],
          [a.wt, b.wt],
        ] as const)
          expectWithin(x, y, { relative: EXACT }, s);
      }),
    );
  });

  it('scale with the right power of their size', () => {
    fc.assert(
      fc.property(size, fc.double({ min: 0.2, max: 5, noNaN: true }), (s, k) => {
        const a = tubeProperties(s, 0.3);
        const b = tubeProperties({ shape: s.shape, height: k * s.height, width: k * s.width, wall: k * s.wall }, 0.3);
        for (const key of ['area', 'asy', 'asz'] as const)
          expectWithin(b[key], a[key] * k ** 2, { relative: EXACT }, s);
        for (const key of ['wy', 'zz', 'wt'] as const) expectWithin(b[key], a[key] * k ** 3, { relative: EXACT }, s);
        for (const key of ['iy', 'iz', 'j'] as const) expectWithin(b[key], a[key] * k ** 4, { relative: EXACT }, s);
      }),
    );
  });

  it('keep order: shear area < area, J ≤ Iy + Iz, elastic < plastic modulus ≤ 2.4 times it', () => {
    fc.assert(
      fc.property(size, (s) => {
        const p = tubeProperties(s, 0.3);
        expect(p.asy > 0 && p.asy < p.area && p.asz > 0 && p.asz < p.area).toBe(true);
        expect(p.j).toBeLessThanOrEqual((p.iy + p.iz) * (1 + EXACT));
        for (const [w, z] of [
          [p.wy, p.zy],
          [p.wz, p.zz],
        ] as const) {
          expect(z).toBeGreaterThan(w);
          expect(z).toBeLessThan(2.4 * w);
        }
      }),
    );
  });

  it('have the textbook shape factors: 1.5 rectangle, 16/3π circle, 4/π thin ring', () => {
    const factor = (s: TubeSize): number => tubeProperties(s, 0.3).zz / tubeProperties(s, 0.3).wz;
    expectWithin(factor({ shape: 'rectangular', height: 30, width: 20, wall: 10 }), 1.5, { relative: EXACT });
    expectWithin(factor({ shape: 'round', height: 30, width: 30, wall: 15 }), 16 / (3 * Math.PI), { relative: EXACT });
    expectWithin(factor({ shape: 'round', height: 30, width: 30, wall: 1e-4 }), 4 / Math.PI, { relative: 1e-5 });
  });

  it('have the textbook peak shear: 1.5 V/A rectangle, 4/3 circle, 2 thin ring', () => {
    const factor = (s: TubeSize): number => tubeProperties(s, 0.3).peakY * tubeProperties(s, 0.3).area;
    expectWithin(factor({ shape: 'rectangular', height: 30, width: 20, wall: 10 }), 1.5, { relative: EXACT });
    expectWithin(factor({ shape: 'rectangular', height: 20, width: 30, wall: 10 }), 1.5, { relative: EXACT });
    expectWithin(factor({ shape: 'oval', height: 20, width: 30, wall: 10 }), 4 / 3, { relative: EXACT });
    expectWithin(factor({ shape: 'round', height: 30, width: 30, wall: 1e-4 }), 2, { relative: 1e-5 });
  });

  it('are not a number for a wall that cannot be', () => {
    for (const wall of [0, -1, 11, Number.NaN])
      for (const shape of ['round', 'oval', 'rectangular'] as const) {
        const p = tubeProperties({ shape, height: 20, width: 20, wall }, 0.3);
        for (const [key, value] of Object.entries(p))
          if (typeof value === 'number' && !(key in { height: 0, width: 0, wall: 0 })) expect(value, key).toBeNaN();
      }
  });

  it('weigh area times density', () => {
    const { area } = beamSection('round', 50, 50, 2, 0.33);
    expectWithin(massPerMetre(area, 2700), 0.8143, { absolute: 5e-5 });
  });
});

describe('shear coefficients', () => {
  it('of an oval as wide as high are the round tube’s at every wall', () => {
    for (const t of [0.5, 2, 8, 15])
      expectWithin(shearCoefficient('oval', 30, 30, t, 0.3), shearCoefficient('round', 30, 30, t, 0.3), {
        relative: 1e-6, // Simpson's rule in the thin-oval energy
      });
  });

  it('meet the published limits', () => {
    const nu = 0.3;
    expectWithin(shearCoefficient('round', 30, 30, 15, nu), (6 * 1.3) / (7 + 1.8), { relative: EXACT });
    expectWithin(shearCoefficient('rectangular', 40, 20, 10, nu), 13 / 15.3, { relative: EXACT });
    expectWithin(shearCoefficient('round', 30, 30, 1e-7, nu), 2.6 / 4.9, { relative: 1e-6 });
    // Cowper 1966 prints the thin square tube by itself: 20(1 + ν)/(48 + 39ν)
    expectWithin(shearCoefficient('rectangular', 30, 30, 1e-7, nu), 26 / 59.7, { relative: 1e-6 });
  });

  it('of thin tubes tend to 5/6 of the area when very high, and fall when wide', () => {
    expectWithin(shearCoefficient('rectangular', 3000, 3, 1e-3, 0), 5 / 6, { relative: 5e-3 });
    let before = 1;
    for (const width of [10, 20, 40, 80, 160]) {
      const k = shearCoefficient('oval', 40, width, 1, 0.3);
      expect(k).toBeLessThan(before);
      before = k;
    }
  });

  it('of a thin oval agree with the energy integral on a fine mesh', () => {
    for (const [h, w] of [
      [60, 30],
      [30, 60],
      [80, 20],
    ] as const) {
      const [a, b, n] = [(h - 1e-6) / 2, (w - 1e-6) / 2, 200_000];
      let [length, inertia, square, q] = [0, 0, 0, 0];
      for (let k = 0; k < n; k++) {
        const phi = ((k + 0.5) * Math.PI) / 2 / n;
        const ds = (Math.sqrt((a * Math.sin(phi)) ** 2 + (b * Math.cos(phi)) ** 2) * Math.PI) / 2 / n;
        const y = a * Math.cos(phi);
        q += (y * ds) / 2;
        length += ds;
        inertia += y * y * ds;
        square += q * q * ds;
        q += (y * ds) / 2;
      }
      expectWithin(
        shearCoefficient('oval', h, w, 1e-6, 0),
        inertia ** 2 / (length * square),
        { relative: 2e-5 },
        { h, w },
      );
    }
  });
});
