import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { drawPopulation, measureOf, quantileOf, RIDER_STRIDE } from './population.ts';
import { PUBLIC_IDS, PUBLICS, type SexPublic } from './publics.ts';
import { shareOf } from './share.ts';
import { COLUMN, MEASURES, SURVEY, standardMeasure } from './survey.ts';

const mean = (v: Float64Array): number => v.reduce((a, b) => a + b, 0) / v.length;
const spread = (v: Float64Array): number => {
  const m = mean(v);
  return Math.sqrt(v.reduce((a, b) => a + (b - m) * (b - m), 0) / v.length);
};
/** Four standard errors of a mean of n draws. */
const standardErrors = (sd: number, n: number): number => (4 * sd) / Math.sqrt(n);

describe('a drawn public', () => {
  it('is the same for the same seed, and another for another', () => {
    const draw = (seed: number) => drawPopulation({ women: 0.5, ...PUBLICS.survey }, 50, seed).value;
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it('has its women in their exact share, spread through the sample', () => {
    for (const women of [0, 0.25, 0.5, 0.61, 1]) {
      const p = drawPopulation({ women, ...PUBLICS.survey }, 1000, 1);
      expect(p.female.reduce((a, b) => a + b, 0)).toBe(Math.round(1000 * women));
      expect(Math.abs(p.female.slice(0, 100).reduce((a, b) => a + b, 0) - 100 * women)).toBeLessThan(1);
    }
  });

  it.each(PUBLIC_IDS)('has the statures and masses of %s', (id) => {
    const n = 20_000;
    for (const [women, sex] of [
      [0, 'male'],
      [1, 'female'],
    ] as const) {
      const p = drawPopulation({ women, ...PUBLICS[id] }, n, 3);
      const people = PUBLICS[id][sex];
      // the survey's own percentiles are not exactly those of a normal curve: mean and spread follow to 2 % of the spread
      const shape = 0.02;
      const stature = measureOf(p, 'stature');
      expectWithin(mean(stature), people.stature, {
        absolute: standardErrors(people.statureSpread, n) + shape * people.statureSpread,
      });
      expectWithin(spread(stature), people.statureSpread, { relative: 0.02 + shape });
      const mass = measureOf(p, 'mass');
      expectWithin(mean(mass), people.mass, {
        absolute: standardErrors(people.massSpread, n) + shape * people.massSpread,
      });
      expectWithin(spread(mass), people.massSpread, { relative: 0.05 + shape });
    }
  });

  it('keeps the survey’s correlations', () => {
    const n = 20_000;
    const p = drawPopulation({ women: 0, ...PUBLICS.survey }, n, 5);
    const correlation = (a: Float64Array, b: Float64Array): number => {
      const [ma, mb] = [mean(a), mean(b)];
      return a.reduce((sum, x, i) => sum + (x - ma) * (b[i]! - mb), 0) / n / (spread(a) * spread(b));
    };
    // stature with inseam, stature with sitting height, inseam with sitting height: ANSUR II, men
    for (const [a, b, printed] of [
      ['stature', 'inseam', 0.8581],
      ['stature', 'sitting', 0.7791],
      ['inseam', 'sitting', 0.4285],
      ['stature', 'forearm', 0.7148],
    ] as const)
      expectWithin(correlation(measureOf(p, a), measureOf(p, b)), printed, { absolute: 4 / Math.sqrt(n) });
  });

  it('never gives anybody a limb that is none', () => {
    for (const id of PUBLIC_IDS) {
      const p = drawPopulation({ women: 0.5, ...PUBLICS[id] }, 20_000, 11);
      const odd: number[] = [];
      for (let i = 0; i < p.n; i++) {
        const at = (name: (typeof MEASURES)[number]): number => p.value[i * RIDER_STRIDE + COLUMN[name]]!;
        const whole = at('trochanter') > at('epicondyle') && at('epicondyle') > at('malleolus') && at('malleolus') > 0;
        if (!whole || at('acromion') <= at('trochanter') || at('foot') <= at('ball') || at('mass') <= 0) odd.push(i);
      }
      expect(odd, id).toEqual([]);
    }
  });

  it('refuses a public that is none', () => {
    const { female, male } = PUBLICS.survey;
    expect(() => drawPopulation({ women: 1.1, female, male }, 10, 1)).toThrow(RangeError);
    expect(() => drawPopulation({ women: 0.5, female, male }, 0, 1)).toThrow(RangeError);
    const without: SexPublic = { ...female, massSpread: 0 };
    expect(() => drawPopulation({ women: 0.5, female: without, male }, 10, 1)).toThrow(/massSpread/);
  });
});

describe('the curve from a normal score to a measure', () => {
  it('grows with the score, passes through the percentiles, and has no step', () => {
    for (const survey of [SURVEY.female, SURVEY.male])
      for (let i = 0; i < MEASURES.length; i++) {
        const at = Array.from({ length: 1200 }, (_, k) => standardMeasure(survey, i, -6 + 0.01 * k));
        const steps = at.slice(1).map((t, k) => t - at[k]!);
        expect(Math.min(...steps)).toBeGreaterThan(0);
        expect(Math.max(...steps)).toBeLessThan(0.05);
        expectWithin(standardMeasure(survey, i, 0), survey.knot[5 * i + 2]!, { absolute: 1e-12 });
      }
  });
});

describe('a share', () => {
  it('lies within its interval, which lies within 0 and 1 and shrinks with the sample', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.double({ min: 0, max: 1, noNaN: true }), (n, p) => {
        const count = Math.round(p * n);
        const s = shareOf(count, n);
        expect(s.low).toBeLessThanOrEqual(s.share);
        expect(s.high).toBeGreaterThanOrEqual(s.share);
        expect(s.low >= 0 && s.high <= 1).toBe(true);
        const more = shareOf(4 * count, 4 * n);
        expect(more.high - more.low).toBeLessThan(s.high - s.low);
      }),
      { seed: 2 },
    );
  });
});

describe('a quantile', () => {
  it('lies between the order statistics', () => {
    const sorted = Float64Array.of(1, 2, 4, 8);
    expectWithin(quantileOf(sorted, 0), 1, { absolute: 0 });
    expectWithin(quantileOf(sorted, 0.5), 3, { absolute: 1e-15 });
    expectWithin(quantileOf(sorted, 1), 8, { absolute: 0 });
  });
});
