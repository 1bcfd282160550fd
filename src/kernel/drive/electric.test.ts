import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { climbStairs, LADEN_SPEED, WALKING_SPEED, walkingPower } from '../effort/on-foot.ts';
import { airTravel, assistAt, batteryRange, legalVerdicts, type MotorFigures } from './electric.ts';
import { ridden } from './rider-power.ts';
import type { RoadLoad } from './road-power.ts';

const ROUNDOFF = { relative: 64 * EPS };
const KMH = 1 / 3.6;
const legal: MotorFigures = { power: 250, assistsTo: 25 / 3.6, walksAt: 6 / 3.6, volts: 36, throttle: false };
const misses = (m: Partial<MotorFigures>, region: 'EU' | 'US' = 'EU'): string[] =>
  legalVerdicts({ ...legal, ...m }, region)
    .filter((v) => !v.holds)
    .map((v) => v.rule.id);

describe('the law', () => {
  it('lets the limit itself pass in the EU, as typed in km/h, and nothing beyond it', () => {
    expect(misses({})).toEqual([]);
    expect(misses({ power: 251 })).toEqual(['power']);
    expect(misses({ assistsTo: 25.1 * KMH, volts: 52 })).toEqual(['speed', 'volts']);
    expect(misses({ walksAt: 8 * KMH, throttle: true })).toEqual(['walk', 'throttle']);
  });
  it('asks for less than 750 W and 20 mph in the US', () => {
    expect(misses({ power: 749, assistsTo: 31 * KMH, throttle: true }, 'US')).toEqual([]);
    expect(misses({ power: 750, assistsTo: 33 * KMH }, 'US')).toEqual(['power', 'speed']);
  });
  it('of the air knows three classes', () => {
    expect([100, 101, 160, 161].map(airTravel)).toEqual([
      'free',
      'with the carrier’s approval',
      'with the carrier’s approval',
      'refused',
    ]);
  });
});

describe('assistance', () => {
  const motor = { power: 250, assistsTo: 25 * KMH, assist: 1, efficiency: 0.75 };
  it('shares the demand by its setting until the motor is at its power', () => {
    const half = assistAt(100, 5, motor);
    expect(half).toMatchObject({ rider: 50, motor: 50, saturated: false });
    expectWithin(half.battery, 50 / 0.75, ROUNDOFF);
    expect(assistAt(700, 2, motor)).toMatchObject({ rider: 450, motor: 250, saturated: true });
  });
  it('ends above its speed, and takes nothing back downhill', () => {
    expect(assistAt(100, 26 * KMH, motor)).toMatchObject({ rider: 100, motor: 0, battery: 0 });
    expect(assistAt(-50, 5, motor)).toMatchObject({ rider: 0, motor: 0 });
  });
  it('gives twice the range for half the draw, and none for none', () => {
    expectWithin(batteryRange(160, 10), 2 * batteryRange(160, 20), ROUNDOFF);
    expect(batteryRange(0, 10)).toBe(0);
  });
});

describe('a rider', () => {
  const load: RoadLoad = { mass: 95, rolling: 0.007, dragArea: 0.55, efficiency: 0.95 };
  const motor = { power: 250, assistsTo: 25 * KMH, assist: 1 };
  it('goes as fast as wished for what that takes, or as fast as the legs allow', () => {
    const wish = ridden(load, 200, 5);
    expect(wish.speed).toBe(5);
    expect(wish.rider).toBeLessThan(200);
    const hill = ridden({ ...load, grade: 0.11 }, 180, 5);
    expectWithin(hill.rider, 180, { relative: 1e-9 });
  });
  it('is helped up a hill but never carried past the motor’s speed', () => {
    const hill = { ...load, grade: 0.11 };
    const [alone, helped] = [ridden(hill, 180), ridden(hill, 180, Infinity, motor)];
    expect(helped.speed).toBeGreaterThan(1.6 * alone.speed);
    expectWithin(helped.rider + helped.motor, 360, { relative: 1e-9 });
    const flat = ridden(load, 120, Infinity, motor);
    expectWithin(flat.speed, 25 * KMH, ROUNDOFF);
    const fast = ridden(load, 400, Infinity, motor);
    expect(fast.speed).toBeGreaterThan(25 * KMH);
    expect(fast.motor).toBe(0);
  });
});

describe('on foot', () => {
  it('walks slower with a load, and a load costs more than its share of the weight', () => {
    expectWithin(WALKING_SPEED, 1.41, { absolute: 0.005 });
    expect(LADEN_SPEED).toBeLessThan(WALKING_SPEED);
    const [bare, laden] = [walkingPower(75, 0, 1.25), walkingPower(75, 12, 1.25)];
    expectWithin(bare, 75 * (1.5 + 1.5 * 1.25 * 1.25), ROUNDOFF);
    expect(laden / bare).toBeGreaterThan(1 + (12 / 75) * 0.6);
    expect(() => walkingPower(0, 1, 1)).toThrow(/does not walk/);
  });
  it('climbs at 0.45 m/s along the plan, rests between and not at the top, and does the work of the weight', () => {
    const bare = climbStairs(100, 0.17, 75, 0);
    expectWithin(bare.seconds, (100 * 0.29) / 0.45, ROUNDOFF);
    expect(climbStairs(60, 0.17, 75, 12, 30).rests).toBe(1);
    expect(climbStairs(61, 0.17, 75, 12, 30).rests).toBe(2);
    expect(climbStairs(60, 0.17, 75, 12).rests).toBe(0);
    expectWithin(climbStairs(60, 0.17, 75, 12).work, 87 * 9.80665 * 10.2, ROUNDOFF);
    expect(climbStairs(0, 0.17, 75, 12, 30)).toMatchObject({ seconds: 0, rests: 0, work: 0 });
  });
});
