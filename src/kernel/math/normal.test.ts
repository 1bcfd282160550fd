import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { normalShare } from './normal.ts';

/** A few roundings of numbers near 1. */
const ROUNDOFF = { absolute: 8 * EPS };

describe('the normal distribution function', () => {
  it('gives the tabled percentiles', () => {
    // z of 1 %, 5 %, 15 %, 75 %, 97.5 %, 99 %: standard tables
    const table: readonly (readonly [number, number])[] = [
      [-2.3263478740408408, 0.01],
      [-1.6448536269514722, 0.05],
      [-1.0364333894937898, 0.15],
      [0.6744897501960817, 0.75],
      [1.959963984540054, 0.975],
      [2.3263478740408408, 0.99],
    ];
    for (const [z, p] of table) expectWithin(normalShare(z), p, ROUNDOFF, z);
    expect(normalShare(0)).toBe(0.5);
  });
  it('is symmetric and keeps the digits of a small tail', () => {
    for (const x of [0.1, 1, 2.9, 3.1, 5]) expectWithin(normalShare(x) + normalShare(-x), 1, ROUNDOFF, x);
    // Φ(−8) = 6.220960574271785e-16, Φ(−3.5) = 2.3262907903552504e-4: tables of the tail
    expectWithin(normalShare(-8), 6.220960574271785e-16, { relative: 1e-13 });
    expectWithin(normalShare(-3.5), 2.3262907903552504e-4, { relative: 1e-13 });
  });
  it('joins its two methods without a step', () => {
    const slope = Math.exp(-4.5) / Math.sqrt(2 * Math.PI);
    expectWithin(normalShare(3 + 1e-9) - normalShare(3 - 1e-9), slope * 2e-9, { absolute: 4 * EPS });
  });
  it('says nothing about nothing', () => {
    expect(normalShare(Number.NaN)).toBeNaN();
  });
});
