/** Bare metal: mean stress, straight lines from data, equivalent-stress lines. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import {
  bareAmplitude,
  bareCycles,
  effectiveRange,
  goodmanAmplitude,
  goodmanReserve,
  swtAmplitude,
} from './mean-stress.ts';
import { MIL_LINES, MPA_PER_KSI, milCycles, milLine, milStress } from './mil-lines.ts';

const TIGHT = { relative: 64 * EPS };
const METAL = { ultimate: 260, amplitude: 96.5, cycles: 5e8 };

describe('mean stress', () => {
  it('changes nothing at zero mean, by both rules', () => {
    const reversed = { max: 80, min: -80 };
    expectWithin(goodmanAmplitude(reversed, 260), 80, TIGHT);
    expectWithin(swtAmplitude(reversed), 80, TIGHT);
  });
  it('of a pulsating stress doubles Goodman’s denominator as drawn, and makes √2 of Smith, Watson and Topper', () => {
    expectWithin(goodmanAmplitude({ max: 130, min: 0 }, 260), 65 / (1 - 65 / 260), TIGHT);
    expectWithin(swtAmplitude({ max: 130, min: 0 }), 130 / Math.SQRT2, TIGHT);
  });
  it('in compression earns nothing by Goodman and does no damage by Smith, Watson and Topper', () => {
    expectWithin(goodmanAmplitude({ max: -20, min: -100 }, 260), 40, TIGHT);
    expect(swtAmplitude({ max: -20, min: -100 })).toBe(0);
  });
  it('that reaches the ultimate strength leaves nothing', () => {
    expect(goodmanAmplitude({ max: 300, min: 240 }, 260)).toBe(Number.POSITIVE_INFINITY);
  });
  it('lets 60 % of the compressive part count when stress-relieved, all of it as welded', () => {
    const swing = { max: 50, min: -100 };
    expect(effectiveRange(swing, 'as-welded')).toBe(150);
    expectWithin(effectiveRange(swing, 'stress-relieved'), 110, TIGHT);
    expectWithin(effectiveRange({ max: -10, min: -60 }, 'bare'), 30, TIGHT);
    expect(effectiveRange({ max: 60, min: 10 }, 'bare')).toBe(50);
  });
  it('refuses a swing upside down', () => {
    expect(() => effectiveRange({ max: 0, min: 1 }, 'bare')).toThrow(/not less/);
  });
});

describe('straight line of bare metal', () => {
  it('passes through its two points and is its own inverse', () => {
    expectWithin(bareAmplitude(METAL, 5e8), 96.5, TIGHT);
    expectWithin(bareAmplitude(METAL, 1e3), 0.9 * 260, { relative: 1e-13 });
    fc.assert(
      fc.property(fc.double({ min: 20, max: 250, noNaN: true }), (a) => {
        expectWithin(bareAmplitude(METAL, bareCycles(METAL, a)), a, { relative: 1e-12 });
      }),
    );
  });
  it('gives a Goodman reserve that makes the scaled swing fail at those cycles', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 200, noNaN: true }),
        fc.double({ min: -1, max: 0.9, noNaN: true }),
        (max, R) => {
          const f = goodmanReserve(METAL, { max, min: R * max }, 1e5);
          const reversed = goodmanAmplitude({ max: f * max, min: f * R * max }, METAL.ultimate);
          expectWithin(bareCycles(METAL, reversed), 1e5, { relative: 1e-9 }); // exponent 15 on a quotient near 1
        },
      ),
    );
  });
  it('refuses a fatigue strength that is none', () => {
    expect(() => bareCycles({ ...METAL, amplitude: 250 }, 10)).toThrow(/0.9 Su/);
  });
});

describe('equivalent-stress lines', () => {
  it('are their own inverse at every line and ratio', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...MIL_LINES),
        fc.double({ min: 3, max: 7.5, noNaN: true }),
        fc.double({ min: -1, max: 0.5, noNaN: true }),
        (l, log, R) => {
          const max = milStress(l, Math.exp(log * Math.LN10), R);
          const { cycles } = milCycles(l, { max, min: R * max });
          // Near a run-out Seq − C cancels: 61.3 ksi of which as little as 4 ksi are left.
          expectWithin(Math.log(cycles) / Math.LN10, log, { absolute: 1e-11 });
        },
      ),
    );
  });
  it('choose the nearest notch at least as sharp, and none beyond the table', () => {
    expect(milLine('25CrMo4', 2.5)!.kt).toBe(4);
    expect(milLine('25CrMo4')!.kt).toBe(1);
    expect(milLine('25CrMo4', 6)).toBeUndefined();
    expect(milLine('6061-T6', 2)).toBeUndefined();
    expect(milLine('beech')).toBeUndefined();
  });
  it('say when a use lies outside the tests', () => {
    const l = milLine('6061-T6')!;
    expect(milCycles(l, { max: 150, min: -150 }).outside).toEqual([]);
    expect(milCycles(l, { max: 50, min: -200 }).outside.join()).toMatch(/stress ratio -4.00/);
    expect(milCycles(l, { max: 500, min: 0 }).outside.join()).toMatch(/life/);
    expect(milCycles(l, { max: -5, min: -50 })).toMatchObject({ cycles: Number.POSITIVE_INFINITY });
  });
  it('run out below their offset', () => {
    const l = milLine('25CrMo4')!;
    expect(milCycles(l, { max: 40 * MPA_PER_KSI, min: -40 * MPA_PER_KSI }).cycles).toBe(Number.POSITIVE_INFINITY);
  });
});
