import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { frequencyMultiplier, type Lift, liftLimits, shareLifting } from './lifting.ts';

const ROUNDOFF = { relative: 16 * EPS };
const end = (reach: number, height: number, turn = 0) => ({ reach, height, turn });
const lift = (origin: Lift['origin'], destination?: Lift['origin'], more: Partial<Lift> = {}): Lift => ({
  origin,
  ...(destination ? { destination } : {}),
  coupling: 'good',
  perMinute: 0.1,
  hours: 1,
  ...more,
});

describe('the lifting equation', () => {
  it('allows its load constant, 23 kg, at knuckle height close to the body', () => {
    expectWithin(liftLimits(lift(end(0.25, 0.75), end(0.25, 0.75))).limit, 23, ROUNDOFF);
    expectWithin(liftLimits(lift(end(0.1, 0.75), end(0.2, 0.75))).limit, 23, ROUNDOFF);
  });
  it('takes the worse end', () => {
    const l = liftLimits(lift(end(0.3, 0.45), end(0.45, 1.5)));
    expect(l.worst).toBe('destination');
    expect(l.limit).toBe(l.destination!.limit);
    expect(liftLimits(lift(end(0.6, 0.1), end(0.3, 0.75))).worst).toBe('origin');
    expect(liftLimits(lift(end(0.3, 0.45))).destination).toBeUndefined();
  });
  it('allows less for every thing made harder', () => {
    const base = liftLimits(lift(end(0.3, 0.45), end(0.4, 1.1))).limit;
    for (const harder of [
      lift(end(0.35, 0.45), end(0.45, 1.1)),
      lift(end(0.3, 0.45), end(0.4, 1.3)),
      lift(end(0.3, 0.45, 0.5), end(0.4, 1.1, 0.5)),
      lift(end(0.3, 0.45), end(0.4, 1.1), { coupling: 'poor' }),
      lift(end(0.3, 0.45), end(0.4, 1.1), { perMinute: 2 }),
      lift(end(0.3, 0.45), end(0.4, 1.1), { hours: 2 }),
    ])
      expect(liftLimits(harder).limit).toBeLessThan(base);
  });
  it('says why where it ends', () => {
    expect(liftLimits(lift(end(0.7, 0.8))).origin.outside).toMatch(/0.63 m/);
    expect(liftLimits(lift(end(0.3, 0.5), end(0.3, 1.9))).destination!.outside).toMatch(/1.75 m/);
    expect(liftLimits(lift(end(0.3, 0.5), end(0.3, 1.9))).limit).toBe(0);
    expect(liftLimits(lift(end(0.3, 0.8, 2.5))).origin.outside).toMatch(/135/);
    expect(liftLimits(lift(end(0.3, 0.8), undefined, { perMinute: 16 })).origin.outside).toMatch(/often/);
    expect(() => liftLimits(lift(end(-0.3, 0.8)))).toThrow(RangeError);
  });
  it('reads the frequency table between its rows and below knuckle height', () => {
    expect(frequencyMultiplier(0.05, 1, 0.5)).toBe(1);
    expectWithin(frequencyMultiplier(2.5, 1, 0.5), 0.895, ROUNDOFF);
    expect(frequencyMultiplier(13, 1, 0.5)).toBe(0);
    expect(frequencyMultiplier(13, 1, 0.8)).toBe(0.34);
    expect(frequencyMultiplier(10, 8, 0.7)).toBe(0);
    expect(() => frequencyMultiplier(1, 9, 0.5)).toThrow(RangeError);
  });
});

describe('the share able to lift', () => {
  it('is 75 % of women and 99 % of men at the recommended limit, and falls with the index', () => {
    expectWithin(shareLifting(1, 1), 0.75, { absolute: 1e-12 });
    expectWithin(shareLifting(1, 0), 0.99, { absolute: 1e-12 });
    expect(shareLifting(1.5, 0.5)).toBeLessThan(shareLifting(1, 0.5));
    expect(shareLifting(0)).toBe(1);
    // as many men accept 541/329 times the load as women accept it
    expectWithin(shareLifting(541 / 329, 0), 0.75, { absolute: 1e-12 });
  });
  it('has no share where it has no index', () => {
    expect(shareLifting(Number.NaN)).toBeNaN();
  });
});
