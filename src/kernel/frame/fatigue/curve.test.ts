import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { cyclesAtRange, type FatigueCurveSpec, fatigueCurve, rangeAtCycles } from './curve.ts';
import { FatigueRefusal } from './refusal.ts';

/** exp and ln of exponents up to 43 in sequence: some hundred roundings. */
const POWERS = { relative: 1024 * EPS };

const SPECS: readonly FatigueCurveSpec[] = [
  { code: 'EN1993-1-9', category: 71 },
  { code: 'EN1993-1-9', category: 80, stress: 'shear' },
  { code: 'EN1993-1-9', category: 45, slope: 5 },
  { code: 'IIW', category: 22 },
  { code: 'IIW', category: 63, amplitude: 'constant' },
  { code: 'IIW', category: 28, stress: 'shear' },
  { code: 'IIW', category: 160, slope: 5 },
  { code: 'EN1999-1-3', category: 25 },
  { code: 'EN1999-1-3', category: 80, slope: 7, gammaMf: 1.25 },
];
const spec = fc.constantFrom(...SPECS);
/** Exponents of ten, so that every leg gets its share. */
const logCycles = fc.double({ min: 3, max: 9.5, noNaN: true });

describe('S-N curves', () => {
  it('pass through the category at two million cycles, divided by the partial factor', () => {
    for (const s of SPECS) {
      const curve = fatigueCurve(s);
      expectWithin(rangeAtCycles(curve, 2e6), s.category / (s.gammaMf ?? 1), POWERS, s);
    }
  });

  it('give back the cycles of the range of the cycles, on every leg', () => {
    fc.assert(
      fc.property(spec, logCycles, (s, log) => {
        const curve = fatigueCurve(s);
        const cycles = Math.exp(log * Math.LN10);
        const range = rangeAtCycles(curve, cycles);
        // On the last ulp of the cut-off the life jumps to infinity; the guard keeps off it.
        if (cycles > 0.999e8 && curve.cutOff > 0) expectWithin(range, curve.cutOff, { relative: 1e-3 });
        else expectWithin(cyclesAtRange(curve, range), cycles, POWERS, s);
      }),
    );
  });

  it('never live longer at a larger range, and are continuous at the knees', () => {
    const range = fc.double({ min: 0.1, max: 1000, noNaN: true });
    fc.assert(
      fc.property(spec, range, range, (s, a, b) => {
        const curve = fatigueCurve(s);
        const [low, high] = a < b ? [a, b] : [b, a];
        expect(cyclesAtRange(curve, low)).toBeGreaterThanOrEqual(cyclesAtRange(curve, high));
      }),
    );
    for (const s of SPECS) {
      const curve = fatigueCurve(s);
      if (curve.legs.length < 2) continue;
      const above = cyclesAtRange(curve, curve.limit * (1 + 1e-12));
      expectWithin(cyclesAtRange(curve, curve.limit * (1 - 1e-12)), above, { relative: 1e-9 }, s);
    }
  });

  it('have an infinite life under the cut-off by EN, and none by IIW', () => {
    const ec3 = fatigueCurve({ code: 'EN1993-1-9', category: 71 });
    expectWithin(cyclesAtRange(ec3, ec3.cutOff), 1e8, POWERS);
    expect(cyclesAtRange(ec3, ec3.cutOff * 0.999)).toBe(Number.POSITIVE_INFINITY);
    expect(rangeAtCycles(ec3, 1e12)).toBe(ec3.cutOff);
    const iiw = fatigueCurve({ code: 'IIW', category: 71 });
    expect(iiw.cutOff).toBe(0);
    expect(cyclesAtRange(iiw, 1)).toBeLessThan(1e16);
    expect(cyclesAtRange(iiw, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  it('bend less beyond the knee under variable than under constant amplitude', () => {
    const variable = fatigueCurve({ code: 'IIW', category: 63 });
    const constant = fatigueCurve({ code: 'IIW', category: 63, amplitude: 'constant' });
    expectWithin(variable.limit, constant.limit, POWERS);
    const range = 0.9 * variable.limit;
    // Beyond the knee N = 1e7 (limit/range)^m.
    expectWithin(cyclesAtRange(variable, range), 1e7 / 0.9 / 0.9 / 0.9 / 0.9 / 0.9, POWERS);
    expectWithin(cyclesAtRange(constant, range), 1e7 * Math.exp(-22 * Math.log(0.9)), POWERS);
  });

  it.each<[string, FatigueCurveSpec, string]>([
    ['a category of 0', { code: 'IIW', category: 0 }, 'category'],
    ['a category that is no number', { code: 'IIW', category: Number.NaN }, 'category'],
    ['a slope that EN 1993-1-9 does not have', { code: 'EN1993-1-9', category: 71, slope: 4 }, 'slope'],
    ['a slope of 0', { code: 'IIW', category: 71, slope: 0 }, 'slope'],
    ['a partial factor of 0', { code: 'IIW', category: 71, gammaMf: 0 }, 'gammaMf'],
  ])('refuse %s, naming the field', (_, given, path) => {
    expect(() => fatigueCurve(given)).toThrow(expect.objectContaining({ path }) as FatigueRefusal);
    expect(() => fatigueCurve(given)).toThrow(FatigueRefusal);
  });

  it('refuse negative ranges and lives', () => {
    const curve = fatigueCurve({ code: 'IIW', category: 22 });
    expect(() => cyclesAtRange(curve, -1)).toThrow(FatigueRefusal);
    expect(() => cyclesAtRange(curve, Number.NaN)).toThrow(FatigueRefusal);
    expect(() => rangeAtCycles(curve, 0)).toThrow(FatigueRefusal);
  });
});
