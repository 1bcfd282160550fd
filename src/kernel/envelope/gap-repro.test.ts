/** Hard cases that once went wrong, by name. */
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { type SolidShape, shapeDistance } from './shape-distance.ts';

const PROMISED = { absolute: 1e-9 };

describe('hard cases of the convex search', () => {
  test('a disc whose axis is nearly the direction of search keeps its rim on the disc', () => {
    // The support point was computed from a difference that was all rounding: the rim lay up to a millimetre outside.
    const cube: SolidShape = {
      kind: 'box',
      centre: [0, 0, 0],
      axes: [
        [1, 0, 0],
        [0, 0, 1],
        [0, -1, 0],
      ],
      half: [0.01, 0.01, 0.01],
    };
    const gap = 4.768707787071e-6;
    const disc: SolidShape = {
      kind: 'disc',
      centre: [-0.012 - gap, 0, 0],
      normal: [1, 2.894994170285806e-8, 0],
      radius: 0.0864705975683,
      halfThickness: 0.002,
    };
    // The tilt of 2.9e-8 lowers the disc's face over the cube by less than 0.3 nm.
    expectWithin(shapeDistance(cube, disc).distance, gap, PROMISED);
  });

  test('boxes a hundred-millionth of a radian out of parallel are measured to the nanometre', () => {
    const a: SolidShape = {
      kind: 'box',
      centre: [-0.5519101446134201, 0, 0],
      axes: [
        [6.664001874625056e-8, 0, -1],
        [1, 0, 6.664001874625056e-8],
        [0, -1, 0],
      ],
      half: [0.049544412206266056, 0.01, 0.018976640067310584],
    };
    const b: SolidShape = {
      kind: 'box',
      centre: [0.4855692260029206, 0, 0],
      axes: [
        [2.9802322387695312e-8, 0, -1],
        [1, 0, 2.9802322387695312e-8],
        [0, -1, 0],
      ],
      half: [0.07294603356212107, 0.01, 0.07795249249718703],
    };
    // Along x: centres apart, less both half sizes (0.01 each), less what the tilts bring nearer (0.0495 × 6.66e-8 at the
    // end of the shorter box, against the other's face there: 0.0495 × 2.98e-8 away or nearer).
    const apart = 0.4855692260029206 + 0.5519101446134201 - 0.02;
    const nearer = 0.049544412206266056 * (6.664001874625056e-8 - 2.9802322387695312e-8);
    expectWithin(shapeDistance(a, b).distance, apart - nearer, PROMISED);
  });

  test('a rim that grazes a face by a nanometre and a half is told apart', () => {
    const a: SolidShape = {
      kind: 'disc',
      centre: [0, 0, 0.05201762257362451],
      normal: [0.007902110844484838, 0, 0.999968777834689],
      radius: 0.05,
      halfThickness: 0.002,
    };
    const b: SolidShape = {
      kind: 'disc',
      centre: [0, 0, 0],
      normal: [1, 0, 0],
      radius: 0.05,
      halfThickness: 0.002221952765177355,
    };
    // The upper rim corner (0.00222…, 0, 0.05) of b below the lower face of a, measured along a's normal.
    const n = [0.007902110844484838, 0.999968777834689] as const;
    const gap = n[1] * (0.05201762257362451 - 0.05) - n[0] * 0.002221952765177355 - 0.002;
    expect(gap).toBeGreaterThan(1e-9);
    expectWithin(shapeDistance(a, b).distance, gap, { absolute: 2e-10 });
  });

  test('balls given as capsules without length overlap by a finite amount', () => {
    const ball: SolidShape = { kind: 'capsule', from: [0, 0, 0], to: [0, 0, 1e-92], radius: 0.005 };
    const { overlap } = shapeDistance(ball, ball);
    expectWithin(overlap, 0.01, { absolute: 1e-12 });
  });

  test('shapes with a common centre meet', () => {
    const disc: SolidShape = { kind: 'disc', centre: [0, 0, 0], normal: [1, 0, 0], radius: 0.05, halfThickness: 0.002 };
    const box: SolidShape = {
      kind: 'box',
      centre: [0, 0, 0],
      axes: [
        [6e-7, 0, 1],
        [1, 0, -6e-7],
        [0, 1, 0],
      ],
      half: [0.1, 0.01, 0.01],
    };
    const { distance, overlap } = shapeDistance(disc, box);
    expect(distance).toBe(0);
    expect(overlap).toBeGreaterThan(0.011);
  });
});
