import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import type { RigidMass } from '../mass/rigid-mass.ts';
import { pitchOver, wheelLoads, worstPitchOver } from './load.ts';

const point = (mass: number, x: number, z: number): RigidMass => ({
  mass,
  com: [x, 0, z],
  inertia: [0, 0, 0, 0, 0, 0],
});
const load = { total: point(90, 0.4, 1.1), rearX: 0, frontX: 1, gravity: 9.81 };

describe('wheel loads', () => {
  it('lift the rear wheel exactly at the pitch-over deceleration, on any grade', () => {
    for (const grade of [-0.2, -0.11, 0, 0.15])
      expectWithin(wheelLoads(load, grade, pitchOver(load, grade)).rear, 0, { absolute: 1e-10 });
  });

  it('carry the weight’s part square to the slope', () => {
    const { front, rear } = wheelLoads(load, -0.1, 2);
    expectWithin(front + rear, (90 * 9.81) / Math.sqrt(1.01), { relative: 1e-14 });
  });

  it('shift forward downhill and under braking', () => {
    expect(wheelLoads(load, -0.1).frontShare).toBeGreaterThan(wheelLoads(load).frontShare);
    expect(wheelLoads(load, 0, 1).frontShare).toBeGreaterThan(wheelLoads(load).frontShare);
  });

  it('approach the small-slope form of the level value plus the slope', () => {
    const s = 1e-5;
    expectWithin((pitchOver(load, s) - pitchOver(load)) / (9.81 * s), 1, { relative: 1e-4 });
  });
});

describe('the worst loading', () => {
  it('is the tall rider forward, and counts luggage only where it hurts', () => {
    const bicycle = point(12, 0.5, 0.5);
    const riders = [point(60, 0.3, 1), point(90, 0.42, 1.2)];
    const place = { rearX: 0, frontX: 1, gravity: 9.81 };
    const low = worstPitchOver(bicycle, riders, point(6, 0.1, 0.3), place, -0.11);
    expect(low).toMatchObject({ loading: 1, luggage: false });
    const forward = worstPitchOver(bicycle, riders, point(6, 1.1, 0.8), place, -0.11);
    expect(forward).toMatchObject({ loading: 1, luggage: true });
    expect(forward.deceleration).toBeLessThan(low.deceleration);
  });

  it('needs a rider', () => {
    expect(() => worstPitchOver(point(12, 0.5, 0.5), [], undefined, load, 0)).toThrow(
      expect.objectContaining({ path: 'riders' }),
    );
  });
});
