import fc from 'fast-check';
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { quarticRoots } from './quartic.ts';

/** Coefficients of a4 (x² + bx + c)(x² + dx + e). */
const product = (a4: number, b: number, c: number, d: number, e: number) =>
  [a4, a4 * (b + d), a4 * (c + e + b * d), a4 * (b * e + c * d), a4 * c * e] as const;
const solve = (coefficients: readonly [number, number, number, number, number]) => {
  const out = new Float64Array(8);
  return { end: quarticRoots(...coefficients, out), out };
};

describe('roots of a quartic', () => {
  it('finds four real roots in order', () => {
    const { out, end } = solve(product(2, -3, 2, 1, -12)); // 1, 2, 3, −4
    expect(end.converged).toBe(true);
    [3, 2, 1, -4].forEach((root, i) => {
      expectWithin(out[2 * i]!, root, { relative: 32 * EPS });
      expect(out[2 * i + 1]).toBe(0);
    });
  });

  it('keeps the digits of a root 10,000 times smaller than the largest', () => {
    const { out } = solve(product(1, 16.004, 16 * 0.004, 3, 36));
    expectWithin(out[0]!, -0.004, { relative: 1e-12 }); // coefficients rounded at 1e-16 of 36·16
  });

  it('splits a biquadratic and two pairs with one real part', () => {
    const two = solve([1, 0, 5, 0, 4]); // ±i, ±2i
    expect([...two.out]).toEqual([0, 2, 0, 1, 0, -1, 0, -2].map((x) => x + 0));
    const shared = solve(product(1, 2, 5, 2, 10)); // −1 ± 2i, −1 ± 3i
    expectWithin(shared.out[0]!, -1, { absolute: 1e-7 });
    expect(shared.end.residual).toBeLessThan(1e-14);
  });

  it('gives a double root to the square root of rounding, and its pair sum exactly, wherever it stands', () => {
    const DOUBLE = 4 * Math.sqrt(EPS);
    for (const [r, others] of [
      [3, [-1, -5]],
      [1, [4, -2]],
      [-6, [2, 1]],
    ] as const) {
      const [p, q] = others;
      const { out, end } = solve(product(1, -2 * r, r * r, -(p + q), p * q));
      expect(end.converged).toBe(true);
      const near = [0, 2, 4, 6].filter((k) => Math.abs(out[k]! - r) < 1e-3);
      expect(near).toHaveLength(2);
      for (const k of near) expectWithin(out[k]!, r, { relative: DOUBLE });
      expectWithin(out[near[0]!]! + out[near[1]!]!, 2 * r, { relative: 32 * EPS });
    }
  });

  it('survives zero roots and refuses what is not a quartic', () => {
    expect([...solve([1, 0, 0, 0, 0]).out]).toEqual(new Array(8).fill(0));
    const three = solve([1, -6, 11, -6, 0]);
    [3, 2, 1, 0].forEach((root, i) => {
      expectWithin(three.out[2 * i]!, root, { absolute: 1e-13 });
    });
    for (const bad of [solve([0, 1, 2, 3, 4]), solve([1, NaN, 0, 0, 1])]) {
      expect(bad.end.converged).toBe(false);
      expect(bad.out[0]).toBeNaN();
    }
  });

  it('agrees with a general QR eigenvalue routine on the companion matrix', () => {
    const coefficient = fc.double({ min: -20, max: 20, noNaN: true });
    fc.assert(
      fc.property(coefficient, coefficient, coefficient, coefficient, (a3, a2, a1, a0) => {
        const { out, end } = solve([1, a3, a2, a1, a0]);
        expect(end.residual).toBeLessThan(1e-12);
        const evd = new EigenvalueDecomposition(
          new Matrix([
            [-a3, -a2, -a1, -a0],
            [1, 0, 0, 0],
            [0, 1, 0, 0],
            [0, 0, 1, 0],
          ]),
        );
        const theirs = evd.realEigenvalues.map((re, i) => [re, evd.imaginaryEigenvalues[i]!] as const);
        // Near multiple roots both are only good to ε^(1/4) of the size; the backward error above is the sharp check.
        for (let i = 0; i < 4; i++) {
          const distance = Math.min(
            ...theirs.map(([re, im]) =>
              Math.sqrt((re - out[2 * i]!) * (re - out[2 * i]!) + (im - out[2 * i + 1]!) * (im - out[2 * i + 1]!)),
            ),
          );
          expect(distance).toBeLessThan(2e-3);
        }
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  it('orders by real part and puts +im first', () => {
    const small = fc.double({ min: -5, max: 5, noNaN: true });
    fc.assert(
      fc.property(small, small, small, small, (b, c, d, e) => {
        const { out } = solve(product(1, b, c, d, e));
        for (let i = 0; i < 6; i += 2) {
          expect(out[i]!).toBeGreaterThanOrEqual(out[i + 2]!);
          if (out[i] === out[i + 2]) expect(out[i + 1]!).toBeGreaterThanOrEqual(out[i + 3]!);
        }
      }),
      { numRuns: 300, seed: 11 },
    );
  });
});
