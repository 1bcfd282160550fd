/** The one numeric assertion: shows expected, actual, difference, tolerance and inputs when it fails. */
import { expect } from 'vitest';

export const EPS = Number.EPSILON;

export interface Tolerance {
  readonly absolute?: number;
  readonly relative?: number;
}

/** Fails unless |actual − expected| ≤ absolute + relative·|expected|. NaN always fails. */
export function expectWithin(actual: number, expected: number, tolerance: Tolerance, inputs: unknown = ''): void {
  const limit = (tolerance.absolute ?? 0) + (tolerance.relative ?? 0) * Math.abs(expected);
  const difference = Math.abs(actual - expected);
  if (!(difference <= limit))
    expect.fail(
      `expected ${expected}, actual ${actual}, difference ${difference}, allowed ${limit}, inputs ${JSON.stringify(inputs)}`,
    );
  expect(difference).toBeLessThanOrEqual(limit);
}
