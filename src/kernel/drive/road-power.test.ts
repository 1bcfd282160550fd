import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { type RoadLoad, roadForce, roadPower } from './road-power.ts';
import { roadSpeed } from './road-speed.ts';
import { increasingRoot } from './root.ts';

const ROUNDOFF = { relative: 64 * EPS };
/** A bracket of doubles, times the slope of the power; downhill the power is a small difference of large parts. */
const rootOf = (air: number) => ({ relative: 1e-12, absolute: 1e-13 * air });

const load: RoadLoad = { mass: 95, rolling: 0.006, dragArea: 0.55, efficiency: 0.95 };
const grades = [-0.12, -0.04, 0, 0.03, 0.11, 0.25];
const winds = [undefined, { speed: 6, from: 0, heading: 0 }, { speed: 6, from: Math.PI, heading: 0 }];
const cases = grades.flatMap((grade) => winds.map((wind): RoadLoad => ({ ...load, grade, ...(wind ? { wind } : {}) })));

describe('road power', () => {
  it('is the force on the road times the speed, and the sum of its parts', () => {
    for (const l of cases)
      for (const v of [0.5, 3, 8]) {
        const p = roadPower(l, v);
        expectWithin(p.wheel, roadForce(l, v) * v, { relative: 1e-12, absolute: 1e-12 }, l);
        expectWithin(p.wheel, p.air + p.rolling + p.bearing + p.grade + p.kinetic, ROUNDOFF, l);
      }
  });
  it('grows with speed wherever it is asked of the rider', () => {
    for (const l of cases) {
      let before = -Infinity;
      for (let v = 0.25; v < 20; v += 0.25) {
        const { wheel } = roadPower(l, v);
        if (wheel > 0 && before > 0) expect(wheel, JSON.stringify(l)).toBeGreaterThan(before);
        before = wheel;
      }
    }
  });
  it('takes a wind from ahead as speed and lets one from behind push', () => {
    const at = (from: number) => roadPower({ ...load, wind: { speed: 5, from, heading: 0 } }, 4).air;
    expectWithin(at(0), 0.6 * 0.55 * 81 * 4, ROUNDOFF);
    expectWithin(at(Math.PI), -0.6 * 0.55 * 1 * 4, { relative: 1e-12 });
    expectWithin(
      roadPower({ ...load, wind: { speed: 5, from: Math.PI / 2, heading: 0 } }, 5).yaw,
      Math.PI / 4,
      ROUNDOFF,
    );
  });
  it('asks nothing of the pedals where the bicycle rolls by itself, and leaves the rest to the brakes', () => {
    const p = roadPower({ ...load, grade: -0.11 }, 5);
    expect(p.pedals).toBe(0);
    expect(p.wheel).toBeLessThan(-300);
  });
  it('lifts a climber’s weight: doubling the mass on a wall doubles the power of grade and rolling', () => {
    const one = roadPower({ ...load, grade: 0.2 }, 2);
    const two = roadPower({ ...load, mass: 190, grade: 0.2 }, 2);
    expectWithin(two.grade, 2 * one.grade, ROUNDOFF);
    expectWithin(two.rolling, 2 * one.rolling, ROUNDOFF);
    expectWithin(one.grade, 95 * STANDARD_GRAVITY * 2 * Math.sin(Math.atan(0.2)), { relative: 1e-14 });
  });
  it('refuses what cannot be', () => {
    expect(() => roadPower({ ...load, mass: 0 }, 5)).toThrow(/mass/);
    expect(() => roadPower({ ...load, efficiency: 1.2 }, 5)).toThrow(/efficiency/);
    expect(() => roadPower({ ...load, rolling: -0.01 }, 5)).toThrow(/rolling/);
    expect(() => roadPower(load, -1)).toThrow(/speed/);
    expect(() => roadSpeed(load, -5)).toThrow(/power/);
    expect(() => roadSpeed({ ...load, dragArea: Number.NaN }, 50)).toThrow(/drag area/);
  });
});

describe('the speed of a power', () => {
  it('gives the power back, uphill and down, with and against the wind', () => {
    for (const l of cases)
      for (const power of [1, 40, 112, 250, 900]) {
        const found = roadSpeed(l, power);
        expect(found.converged, found.reason).toBe(true);
        const there = roadPower(l, found.speed);
        expectWithin(there.pedals, power, rootOf(Math.abs(there.air)), { l, found });
        expect(found.residual).toBeLessThan(1e-9 * power + 1e-9);
      }
  });
  it('is where the bicycle coasts when nobody pedals, and 0 where it would stand', () => {
    const down = roadSpeed({ ...load, grade: -0.05 }, 0);
    expectWithin(roadForce({ ...load, grade: -0.05 }, down.speed), 0, { absolute: 1e-9 });
    expect(down.speed).toBeGreaterThan(8);
    expect(roadSpeed(load, 0)).toMatchObject({ speed: 0, converged: true, reason: 'stands' });
  });
  it('falls with mass uphill and rises with power', () => {
    const v = (mass: number, power: number) => roadSpeed({ ...load, mass, grade: 0.08 }, power).speed;
    expect(v(85, 150)).toBeGreaterThan(v(105, 150));
    expect(v(95, 200)).toBeGreaterThan(v(95, 150));
  });
  it('says so where nothing holds it', () => {
    const free: RoadLoad = { mass: 80, rolling: 0, dragArea: 0, grade: -0.1, bearing: [0, 0] };
    expect(roadSpeed(free, 10)).toMatchObject({ speed: Infinity, converged: false, reason: 'no drag to hold it' });
  });
});

describe('the bracketed root', () => {
  it('reports an end when the root is not inside', () => {
    expect(increasingRoot((x) => x + 1, 0, 5)).toMatchObject({ x: 0, converged: false, reason: 'not in the bracket' });
    expect(increasingRoot((x) => x - 9, 0, 5)).toMatchObject({ x: 5, converged: false, residual: 4 });
    expect(increasingRoot(() => Number.NaN, 0, 5).converged).toBe(false);
  });
  it('finds √2 to the last digits and 0 itself', () => {
    expectWithin(increasingRoot((x) => x * x - 2, 0, 2).x, Math.SQRT2, { relative: 8 * EPS });
    expectWithin(increasingRoot((x) => x, -1, 1).x, 0, { absolute: 1e-15 });
  });
});
