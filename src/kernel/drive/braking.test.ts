import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { pitchOver, wheelLoads } from '../steer/load.ts';
import { BRAKE_TESTS, type BrakePlace, mostDeceleration, stopFrom, testDeceleration } from './braking.ts';

const ROUNDOFF = { relative: 64 * EPS };
const total = { mass: 100, com: [0.45, 0, 1.05], inertia: [0, 0, 0, 0, 0, 0] } as const;
const loadCase = { total, rearX: 0, frontX: 1, gravity: STANDARD_GRAVITY } as never;
const placeOn = (grade: number): BrakePlace => ({
  wheelbase: 1,
  ahead: 0.45,
  height: 1.05,
  lift: pitchOver(loadCase, grade),
  gravity: STANDARD_GRAVITY,
});

describe('the most that the road allows', () => {
  it('puts each braked wheel exactly at its grip: the wheel loads of the steering discipline say so', () => {
    for (const grade of [-0.11, 0, 0.08])
      for (const mu of [0.2, 0.4]) {
        const place = placeOn(grade);
        const [cos, sin] = [1 / Math.sqrt(1 + grade * grade), grade / Math.sqrt(1 + grade * grade)];
        for (const wheels of ['front', 'rear', 'both'] as const) {
          const { value, limit } = mostDeceleration(place, mu, grade, wheels);
          expect(limit).toBe('adhesion');
          const loads = wheelLoads(loadCase, grade, value);
          const brake = total.mass * (value - STANDARD_GRAVITY * sin);
          const held = { front: loads.front, rear: loads.rear, both: loads.front + loads.rear }[wheels];
          expectWithin(brake, mu * held, { relative: 1e-12 }, { grade, mu, wheels });
        }
        expect(cos).toBeLessThanOrEqual(1);
      }
  });
  it('is the lift of the rear wheel where the road holds more, and never more', () => {
    const place = placeOn(-0.11);
    for (const wheels of ['front', 'both'] as const) {
      const best = mostDeceleration(place, 0.8, -0.11, wheels);
      expect(best).toEqual({ value: place.lift, limit: 'rear wheel lifts' });
      expectWithin(wheelLoads(loadCase, -0.11, best.value).rear, 0, { absolute: 1e-9 });
    }
    expect(mostDeceleration(place, 0.8, -0.11, 'rear').value).toBeLessThan(place.lift);
  });
  it('grows with grip and shrinks downhill; two brakes stop shorter than either', () => {
    const at = (mu: number, grade: number, w: 'both' | 'front' | 'rear') =>
      mostDeceleration(placeOn(grade), mu, grade, w).value;
    for (const w of ['both', 'front', 'rear'] as const) {
      expect(at(0.4, 0, w)).toBeGreaterThan(at(0.3, 0, w));
      expect(at(0.3, -0.11, w)).toBeLessThan(at(0.3, 0, w));
    }
    expect(at(0.4, -0.11, 'both')).toBeGreaterThan(Math.max(at(0.4, -0.11, 'front'), at(0.4, -0.11, 'rear')));
    expect(() => at(0, 0, 'both')).toThrow(/adhesion/);
  });
});

describe('the way to a stop', () => {
  it('is v²/2a with a brake that holds at once, plus the way of the reaction', () => {
    expectWithin(stopFrom(5, 2.5, 0, 1e-12).distance, 5, { relative: 1e-11 });
    expectWithin(stopFrom(5, 2.5, 1, 1e-12).distance, 10, { relative: 1e-11 });
  });
  it('agrees with a step-by-step ride through reaction, build-up and full brake, on a slope too', () => {
    for (const slope of [0, -1.07, 0.5])
      for (const [v0, a, tr, tb] of [
        [5, 2.83, 1, 0.6],
        [5, 5, 1, 0.3],
        [2, 4, 0.5, 2],
        [8, 0.9, 1, 0.6],
      ] as const) {
        let [v, s, t] = [v0 - 0, 0, 0];
        const dt = 2e-5;
        while (v > 0 && t < 100) {
          const dec = t < tr ? slope : t < tr + tb ? slope + ((a - slope) * (t + dt / 2 - tr)) / tb : a;
          s += v * dt - (dec * dt * dt) / 2;
          v -= dec * dt;
          t += dt;
        }
        const found = stopFrom(v0, a, tr, tb, slope);
        // the last step of the ride, and the steps at the corners
        expectWithin(found.distance, s, { absolute: 5e-4 }, { slope, v0, a });
        expectWithin(found.seconds, t, { absolute: 1e-3 }, { slope, v0, a });
        expectWithin(found.distance, found.reaction + found.buildUp + found.braking, ROUNDOFF);
      }
  });
  it('never ends where the brake gives less than the slope', () => {
    expect(stopFrom(5, -0.1, 1, 0.3, -1).distance).toBe(Infinity);
    expect(stopFrom(5, 0, 1, 0.3).distance).toBe(Infinity);
  });
  it('of a test’s brake on the level is the test’s own distance', () => {
    for (const t of BRAKE_TESTS)
      expectWithin(stopFrom(t.speed, testDeceleration(t), 0, 1e-12).distance, t.distance, { relative: 1e-10 }, t.id);
  });
});
