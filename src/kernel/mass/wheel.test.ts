import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { comFromAxles } from './bench.ts';
import { boxMass, discMass, hoopMass, rodMass } from './shapes.ts';
import { grownMass } from './weighed.ts';
import { spokedWheelInertia } from './wheel.ts';

const MAKE = {
  mass: 1.25,
  radius: 0.243,
  tyreWidth: 0.04,
  hubMass: 0.2,
  hubRadius: 0.02,
  hubWidth: 0.1,
  spokeMass: 0.14,
};

describe('wheels', () => {
  it('turn harder about the axle than a disc and easier than a hoop of the same mass', () => {
    const i = spokedWheelInertia(MAKE);
    const mr2 = MAKE.mass * MAKE.radius * MAKE.radius;
    expect(i.polar).toBeGreaterThan(0.5 * mr2);
    expect(i.polar).toBeLessThan(0.93 * 0.93 * mr2);
    // A flat body's polar inertia is the sum of the two diametral ones; width adds to the diametral only.
    expect(i.diametral).toBeGreaterThan(i.polar / 2);
    expect(i.diametral).toBeLessThan(0.52 * i.polar);
  });
  it('refuse a hub heavier than the wheel', () => {
    expect(() => spokedWheelInertia({ ...MAKE, hubMass: 1.3 })).toThrow(RangeError);
  });
});

describe('solids', () => {
  it('of one kind are limits of another: thin disc stack, slender rod, flat box', () => {
    const stack = discMass(2, 0, 0.5, [0, 0, 0], [1, 0, 0]);
    expectWithin(rodMass(2, [-0.25, 0, 0], [0.25, 0, 0]).inertia[1], stack.inertia[1], { relative: 1e-15 });
    expectWithin(boxMass(2, [0.5, 0, 0], [0, 0, 0]).inertia[1], stack.inertia[1], { relative: 1e-15 });
    // Hoop minus disc of the same mass and radius: mr²/2 about the axle.
    expectWithin(
      hoopMass(2, 0.3, 0, [0, 0, 0], [0, 1, 0]).inertia[1] - discMass(2, 0.3, 0, [0, 0, 0], [0, 1, 0]).inertia[1],
      0.09,
      {
        relative: 1e-14,
      },
    );
  });
  it('match a direct sum over small cubes', () => {
    // Box 2 × 1 × 0.5 as n³ point masses: the midpoint sum is short by exactly the cells' own inertia, 1/n².
    const n = 20;
    const size = [2, 1, 0.5] as const;
    let ixx = 0;
    for (let j = 0; j < n; j++)
      for (let k = 0; k < n; k++) {
        const y = size[1] * ((j + 0.5) / n - 0.5);
        const z = size[2] * ((k + 0.5) / n - 0.5);
        ixx += (3 / (n * n)) * (y * y + z * z);
      }
    const exact = boxMass(3, size, [0, 0, 0]).inertia[0];
    expectWithin(ixx, exact * (1 - 1 / (n * n)), { relative: 1e-12 });
  });
  it('refuse negative masses and skewed axes', () => {
    expect(() => boxMass(-1, [1, 1, 1], [0, 0, 0])).toThrow(RangeError);
    expect(() =>
      boxMass(
        1,
        [1, 1, 1],
        [0, 0, 0],
        [
          [1, 0, 0],
          [0.1, 1, 0],
          [0, 0, 1],
        ],
      ),
    ).toThrow(RangeError);
    expect(() => discMass(1, -0.1, 0.1, [0, 0, 0], [0, 1, 0])).toThrow(RangeError);
  });
});

it('the bench needs weight and a raised front', () => {
  const r = { wheelbase: 1, weight: 120, front: 54, frontRaised: 54, tilt: 0, reading: 0.5 };
  expect(() => comFromAxles(r)).toThrow(RangeError);
  expect(() => comFromAxles({ ...r, tilt: 0.3, weight: 0 })).toThrow(RangeError);
  // Centre of mass on the line of the axles: raising changes nothing.
  expectWithin(comFromAxles({ ...r, tilt: 0.3 }).height, 0, { absolute: 1e-15 });
});

it('growth shrinks with maturity', () => {
  const highs = (['concept', 'preliminary', 'drawings', 'weighed'] as const).map((m) => grownMass(10, m).high);
  expect([...highs].sort((a, b) => b - a)).toEqual(highs);
  expectWithin(highs[0]!, 12.5, { relative: 1e-14 });
});
