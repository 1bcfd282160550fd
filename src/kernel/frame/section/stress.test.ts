import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { bendingStress, normalStressAt, stressBound, worstRange, worstStress } from './stress.ts';
import { type TubeProperties, type TubeSize, tubeProperties } from './tube-section.ts';

const EXACT = 1e-12;
const tube = (shape: TubeSize['shape'], height: number, width: number, wall: number): TubeProperties =>
  tubeProperties({ shape, height, width, wall }, 0.33);
// Whole newtons and N·mm: zero comes up, denormals do not
const force = fc.integer({ min: -2000, max: 2000 });
const moment = fc.integer({ min: -200_000, max: 200_000 });
const six = fc.tuple(force, force, force, moment, moment, moment);
const hollow: fc.Arbitrary<TubeProperties> = fc
  .record({
    shape: fc.constantFrom('round' as const, 'oval' as const, 'rectangular' as const),
    height: fc.double({ min: 20, max: 80, noNaN: true }),
    width: fc.double({ min: 20, max: 80, noNaN: true }),
    wall: fc.double({ min: 0.6, max: 6, noNaN: true }),
  })
  .map(({ shape, height, width, wall }) => tube(shape, height, shape === 'round' ? height : width, wall));

/** Points of the outline, with their eccentric angle. */
function outline(p: TubeProperties, n: number): (readonly [number, number])[] {
  return Array.from({ length: n }, (_, k) => {
    const phi = (2 * Math.PI * k) / n;
    const [c, s] = [Math.cos(phi), Math.sin(phi)];
    const r = p.shape === 'rectangular' ? 1 / Math.max(Math.abs(c), Math.abs(s)) : 1;
    return [(p.height / 2) * c * r, (p.width / 2) * s * r] as const;
  });
}

describe('stress around a section', () => {
  it('of pure tension, bending and torsion is the textbook one', () => {
    const p = tube('round', 50, 50, 2);
    expectWithin(worstStress(p, [1000, 0, 0, 0, 0, 0]).vonMises, 1000 / p.area, { relative: EXACT });
    expectWithin(worstStress(p, [0, 0, 0, 0, 3e5, 4e5]).vonMises, (5e5 * 25) / p.iz, { relative: EXACT });
    expectWithin(worstStress(p, [0, 0, 0, 1e5, 0, 0]).vonMises, (Math.sqrt(3) * 1e5 * 25) / p.j, { relative: EXACT });
    expectWithin(worstStress(p, [0, 800, 0, 0, 0, 0]).vonMises, Math.sqrt(3) * 800 * p.peakY, { relative: EXACT });
  });

  it('gives the method page’s example by hand: 50 × 2, 300 N·m of bending, 100 N·m of torsion, 89.7 MPa', () => {
    const p = tube('round', 50, 50, 2);
    expectWithin(worstStress(p, [0, 0, 0, 1e5, 0, 3e5]).vonMises, 89.7, { absolute: 0.05 });
  });

  it('has its signs: positive Mz stretches the lower fibre, positive My the side at +z', () => {
    const p = tube('rectangular', 60, 30, 2);
    expect(normalStressAt(p, [0, 0, 0, 0, 0, 1e5], -30, 0)).toBeGreaterThan(0);
    expect(normalStressAt(p, [0, 0, 0, 0, 1e5, 0], 0, 15)).toBeGreaterThan(0);
    const worst = worstStress(p, [500, 0, 0, 0, 1e5, -1e5]);
    expect([worst.y, worst.z]).toEqual([30, 15]);
    expectWithin(worst.normal, worst.mostTension, { relative: EXACT });
  });

  it('finds the extremes of the normal stress exactly', () => {
    fc.assert(
      fc.property(hollow, six, (p, f) => {
        const { mostTension, mostCompression } = worstStress(p, f);
        const scale = Math.abs(f[0]) / p.area + bendingStress(p, f[4], f[5]);
        const all = outline(p, 720).map(([y, z]) => normalStressAt(p, f, y, z));
        // A point every half degree misses the peak by (0.25°)²/2 at most; the rectangle's corners are hit
        expectWithin(Math.max(...all), mostTension, { absolute: 2e-5 * scale }, f);
        expectWithin(Math.min(...all), mostCompression, { absolute: 2e-5 * scale }, f);
      }),
    );
  });

  it('finds the worst point of round and oval tubes: no point of a fine outline is worse', () => {
    fc.assert(
      fc.property(
        hollow.filter((p) => p.shape !== 'rectangular'),
        six,
        (p, f) => {
          const worst = worstStress(p, f);
          let most = 0;
          for (let k = 0; k < 1440; k++) {
            const phi = (Math.PI * k) / 720;
            const [y, z] = [(p.height / 2) * Math.cos(phi), (p.width / 2) * Math.sin(phi)];
            const sigma = normalStressAt(p, f, y, z);
            const tau = f[3] / p.wt + f[2] * p.peakZ * Math.cos(phi) - f[1] * p.peakY * Math.sin(phi);
            most = Math.max(most, Math.sqrt(sigma * sigma + 3 * tau * tau));
          }
          expect(worst.vonMises).toBeGreaterThanOrEqual(most * (1 - 1e-9));
          expectWithin(worst.vonMises, most, { relative: 1e-4 }, f); // the outline's own coarseness
        },
      ),
      { numRuns: 300 },
    );
  });

  it('never exceeds the closed-form bound, and meets it without transverse shear', () => {
    fc.assert(
      fc.property(hollow, six, (p, f) => {
        const worst = worstStress(p, f).vonMises;
        expect(worst).toBeLessThanOrEqual(stressBound(p, f) * (1 + EXACT));
        const still = [f[0], 0, 0, f[3], f[4], f[5]];
        expectWithin(worstStress(p, still).vonMises, stressBound(p, still), { relative: 1e-9 }, f);
      }),
    );
  });

  it('is the same seen from the other side: all forces reversed', () => {
    fc.assert(
      fc.property(hollow, six, (p, f) => {
        const back = worstStress(
          p,
          f.map((x) => -x),
        );
        const worst = worstStress(p, f);
        expectWithin(back.vonMises, worst.vonMises, { relative: 1e-9 }, f);
        expectWithin(back.mostCompression, -worst.mostTension, { absolute: 1e-9 }, f);
      }),
    );
  });

  it('carries the shear force: the flow around a thin wall sums to it', () => {
    // Round, thin: ∮ τ t (tangent · y) ds = Vy
    const p = tube('round', 50, 50, 0.01);
    const n = 720;
    const r = (p.height - p.wall) / 2;
    let sum = 0;
    for (let k = 0; k < n; k++) {
      const phi = (2 * Math.PI * k) / n;
      const tau = -700 * p.peakY * Math.sin(phi);
      sum += tau * p.wall * -Math.sin(phi) * ((2 * Math.PI * r) / n);
    }
    expectWithin(sum, 700, { relative: 1e-3 }); // thin-wall limit: wall over radius
  });

  it('adds transverse shear to torsion on one side and takes it off on the other', () => {
    for (const p of [tube('round', 50, 50, 2), tube('rectangular', 50, 50, 2)]) {
      const left = worstStress(p, [0, 500, 0, 1e5, 0, 0]);
      expect(left.z).toBeLessThan(0);
      expect(left.shear).toBeGreaterThan(1e5 / p.wt);
      expect(worstStress(p, [0, -500, 0, 1e5, 0, 0]).z).toBeGreaterThan(0);
      expect(worstStress(p, [0, 0, 500, 1e5, 0, 0]).y).toBeGreaterThan(0);
    }
  });
});

describe('range of normal stress', () => {
  it('is the largest difference at one point, not of the extremes', () => {
    const p = tube('round', 40, 40, 2);
    const up = [0, 0, 0, 0, 0, 2e5];
    const side = [0, 0, 0, 0, 2e5, 0];
    expectWithin(worstRange(p, up, side), (Math.SQRT2 * 2e5) / p.wz, { relative: EXACT });
    expect(worstRange(p, up, up)).toBe(0);
    fc.assert(
      fc.property(hollow, six, six, (q, a, b) => {
        const exact = worstRange(q, a, b);
        const seen = Math.max(
          ...outline(q, 720).map(([y, z]) => Math.abs(normalStressAt(q, a, y, z) - normalStressAt(q, b, y, z))),
        );
        expectWithin(seen, exact, { relative: 2e-5, absolute: 1e-9 }, { a, b });
      }),
    );
  });

  it('reads load vectors at offsets of a long array', () => {
    const p = tube('oval', 40, 30, 2);
    const a = [10, 20, 30, 40, 50, 60];
    const b = [-5, 1, 2, 3, 400, -500];
    const long = Float64Array.from([9, 9, ...a, ...b]);
    expect(worstRange(p, long, long, 2, 8)).toBe(worstRange(p, a, b));
    expect(stressBound(p, long, 8)).toBe(stressBound(p, b));
    expect(worstStress(p, long, 2)).toEqual(worstStress(p, a));
  });
});
