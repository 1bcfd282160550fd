import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../test/expect-within.ts';
import { duel, score, worth } from './value.ts';

const ROUNDOFF = { absolute: 64 * EPS };

describe('values and weights', () => {
  it('is 1 at the best, 0 at the worst and straight between, whichever way is better', () => {
    const less = { best: 10, worst: 13, weight: 1 };
    expect([worth(less, 9), worth(less, 10), worth(less, 13), worth(less, 14)]).toEqual([1, 1, 0, 0]);
    expectWithin(worth(less, 11.5), 0.5, ROUNDOFF);
    expectWithin(worth({ best: 5, worst: 1, weight: 1 }, 2), 0.25, ROUNDOFF);
  });

  it('finds the sweep at which the order first flips, and no weights inside it flip the order', () => {
    const unitValue = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(unitValue, unitValue, fc.double({ min: 0.1, max: 5, noNaN: true }), fc.boolean()), {
          minLength: 2,
          maxLength: 8,
        }),
        (rows) => {
          const wishes = rows.map(([, , weight]) => ({ best: 1, worst: 0, weight }));
          const a = rows.map((r) => r[0]);
          const b = rows.map((r) => r[1]);
          const found = duel(wishes, a, b);
          fc.pre(found.flipsAt > 1e-6 && found.flipsAt < 1 && Math.abs(found.lead) > 1e-9);
          const swept = (s: number) =>
            wishes.map((w, i) => {
              const d = (a[i]! - b[i]!) * Math.sign(found.lead);
              return { ...w, weight: w.weight * (1 - s * Math.sign(d)) };
            });
          const lead = (s: number) => (score(swept(s), a) - score(swept(s), b)) * Math.sign(found.lead);
          expect(lead(found.flipsAt * 0.999)).toBeGreaterThan(0);
          expect(lead(Math.min(1, found.flipsAt * 1.001))).toBeLessThan(1e-12);
        },
      ),
    );
  });

  it('never flips when one loses on every wish, and ties flip at once', () => {
    const wishes = [
      { best: 1, worst: 0, weight: 2 },
      { best: 1, worst: 0, weight: 1 },
    ];
    expect(duel(wishes, [0.9, 0.5], [0.5, 0.5]).flipsAt).toBe(Number.POSITIVE_INFINITY);
    expect(duel(wishes, [0.5, 0.5], [0.5, 0.5]).flipsAt).toBe(0);
  });
});
