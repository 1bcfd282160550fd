import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { ageLock, FOLDS, freeAngle, type LockWhenNew, type Wear } from './ageing.ts';

const lock: LockWhenNew = { preload: 2500, stack: 9000, play: 0.03, span: 50, arm: 40, serviceMoment: 60_000 };
const wear: Wear = {
  seatWear: 3e-6,
  bearingWear: 3e-6,
  seatSlide: 4,
  seatArea: 40,
  bearingSlide: 15,
  bearingForce: 150,
  bearingArea: 200,
  rideWork: 0,
  settling: 0.008,
};
const ROUNDOFF = { relative: 1e-12 };

describe('an ageing lock', () => {
  it('loses what settles at once and then by the same share with every fold', () => {
    const [fresh, one, two] = ageLock(lock, wear, [0, 5000, 10_000]);
    expect(fresh!.preload).toBe(2500);
    const first = 2500 - 9000 * 0.008;
    expectWithin((one!.preload / first) * (one!.preload / first), two!.preload / first, ROUNDOFF);
  });

  it('wears by force, way and area: halving the area doubles the rate, and the integral matches small steps', () => {
    const steps = 2000;
    let force = lock.preload - lock.stack * wear.settling;
    let depth = 0;
    for (let i = 0; i < steps; i++) {
      const deeper = ((wear.seatWear * 1e-3 * force * wear.seatSlide) / wear.seatArea) * (20_000 / steps);
      depth += deeper;
      force -= lock.stack * deeper;
    }
    const [old] = ageLock(lock, wear, [20_000]);
    // Explicit steps of an exponential: error about half the step's decay, 0.054/2000/2.
    expectWithin(old!.preload, force, { relative: 1e-5 });
    expectWithin(old!.seatDepth - wear.settling, depth, { relative: 1e-3 });
    const rate = (area: number) =>
      -Math.log(ageLock(lock, { ...wear, seatArea: area, settling: 0 }, [1000])[0]!.preloadLeft);
    expectWithin(rate(20), 2 * rate(40), { relative: 1e-9 });
  });

  it('gains play in proportion to folds', () => {
    const ages = ageLock(lock, wear);
    expect(ages.map((a) => a.folds)).toEqual([...FOLDS]);
    expectWithin(ages[2]!.play - lock.play, 4 * (ages[1]!.play - lock.play), ROUNDOFF);
    expectWithin(ages[1]!.play - lock.play, (5000 * 3e-9 * 150 * 15) / 200, ROUNDOFF);
    // 30 N·m of riding per fold outweigh the 2.25 N·m of folding.
    const [ridden] = ageLock(lock, { ...wear, rideWork: 30 }, [5000]);
    expectWithin((ridden!.play - lock.play) / (ages[1]!.play - lock.play), (2.25 + 30) / 2.25, { relative: 1e-9 });
    expectWithin(freeAngle(0.05, 30) * 500, 0.8333333333, { relative: 1e-9 });
  });

  it('tells the opening margin, which falls with the preload', () => {
    const ages = ageLock(lock, wear);
    expectWithin(ages[0]!.margin, 100_000 / 60_000, ROUNDOFF);
    expect(ages[2]!.margin).toBeLessThan(ages[1]!.margin);
    expect(ageLock({ ...lock, serviceMoment: Number.NaN }, wear)[0]!.margin).toBeNaN();
  });

  it('never pulls: a stack that settles away leaves no preload', () => {
    expect(ageLock({ ...lock, preload: 50 }, wear, [1])[0]!.preload).toBe(0);
  });

  it('refuses areas and wear that are none', () => {
    expect(() => ageLock(lock, { ...wear, seatArea: 0 })).toThrow(/seatArea/);
    expect(() => ageLock(lock, { ...wear, bearingWear: -1 })).toThrow(/bearingWear/);
  });
});
