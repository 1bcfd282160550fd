/** Hull and least box: properties. The published solids are in verification/envelope. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { motion } from '../../../test/fixtures/random-shapes.ts';
import { dot, movePoint, sub, type Vec3 } from '../math/index.ts';
import { convexHull, hullVolume } from './hull.ts';
import { minBox } from './min-box.ts';
import { sideOfPlane } from './orientation.ts';
import { polynomialAt, rootsBetween } from './real-roots.ts';

const coordinate = fc.double({ min: -0.5, max: 0.5, noNaN: true });
const cloud = (least: number, most: number): fc.Arbitrary<Vec3[]> =>
  fc.array(fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<Vec3>, { minLength: least, maxLength: most });
/** Clouds with points nearly in one plane, nearly on one line, and on a coarse grid, all mixed. */
const nasty: fc.Arbitrary<Vec3[]> = cloud(5, 40).map((points) =>
  points.map(([x, y, z], i): Vec3 => {
    if (i % 4 === 0) return [x * 1e-9 + 0.1, y, 0.2];
    if (i % 4 === 1) return [Math.round(x * 4) / 4, Math.round(y * 4) / 4, z * 1e-11];
    if (i % 4 === 2) return [Math.round(x * 4) / 4, Math.round(y * 4) / 4, Math.round(z * 4) / 4];
    return [x, y, z];
  }),
);
/** Sums of a few products of metre-sized numbers. */
const ROUNDING = 1e-12;

describe('convex hull', () => {
  test('leaves no point outside any face, decided in whole numbers', () => {
    fc.assert(
      fc.property(nasty, (points) => {
        for (const { corners } of convexHull(points).faces) {
          const [a, b, c] = corners.map((i) => points[i]!) as [Vec3, Vec3, Vec3];
          for (const p of points) expect(sideOfPlane(a, b, c, p)).toBeLessThanOrEqual(0);
        }
      }),
      { numRuns: 100, endOnFailure: true },
    );
  });

  test('obeys Euler: corners − edges + faces = 2', () => {
    fc.assert(
      fc.property(nasty, (points) => {
        const { rank, faces } = convexHull(points);
        if (rank < 3) return;
        const corners = new Set(faces.flatMap((f) => f.corners)).size;
        expect(corners - (3 * faces.length) / 2 + faces.length).toBe(2);
      }),
      { numRuns: 150, endOnFailure: true },
    );
  });

  test('has the same volume in any order and pose', () => {
    fc.assert(
      fc.property(cloud(5, 20), motion, (points, t) => {
        const volume = hullVolume(points, convexHull(points));
        const other = points.map((p) => movePoint(t, 0, p)).reverse();
        expectWithin(hullVolume(other, convexHull(other)), volume, { absolute: ROUNDING });
      }),
      { numRuns: 100, endOnFailure: true },
    );
  });
});

describe('least box', () => {
  test('holds every point, and its volume is the product of its sides', () => {
    fc.assert(
      fc.property(cloud(1, 12), (points) => {
        const { axes, sides, centre, volume } = minBox(points);
        expectWithin(sides[0] * sides[1] * sides[2], volume, { absolute: ROUNDING });
        for (const p of points)
          for (let k = 0; k < 3; k++)
            expect(Math.abs(dot(sub(p, centre), axes[k]!))).toBeLessThanOrEqual(sides[k]! / 2 + 1e-9);
      }),
      { numRuns: 40, endOnFailure: true },
    );
  });

  test('has the same volume whatever the order and the pose of the points', () => {
    fc.assert(
      fc.property(cloud(4, 10), motion, (points, t) => {
        const { volume } = minBox(points);
        expectWithin(minBox(points.map((p) => movePoint(t, 0, p)).reverse()).volume, volume, { absolute: 1e-9 });
      }),
      { numRuns: 25, endOnFailure: true },
    );
  });

  test('is never beaten by the box at a random orientation', () => {
    fc.assert(
      fc.property(cloud(4, 14), fc.array(motion, { minLength: 300, maxLength: 300 }), (points, turns) => {
        const { volume } = minBox(points);
        for (const t of turns) {
          let product = 1;
          for (let k = 0; k < 3; k++) {
            const h = points.map((p) => movePoint(t, 0, p)[k]!);
            product *= Math.max(...h) - Math.min(...h);
          }
          expect(volume).toBeLessThanOrEqual(product + 1e-9);
        }
      }),
      { numRuns: 15, endOnFailure: true },
    );
  });

  test('says what flat, straight and single-point sets are', () => {
    const square: Vec3[] = [
      [0, 0, 0],
      [1, 1, 0],
      [1, 0, 0],
      [0, 1, 0],
      [0.4, 0.6, 0],
    ];
    expect(minBox(square)).toMatchObject({ rank: 2, volume: 0 });
    expectWithin(minBox(square).sides[0] * minBox(square).sides[1], 1, { absolute: ROUNDING });
    const line = minBox([
      [0, 0, 0],
      [2, 2, 2],
      [1, 1, 1],
    ]);
    expect(line).toMatchObject({ rank: 1, volume: 0 });
    expectWithin(line.sides[0], Math.sqrt(12), { absolute: ROUNDING });
    expect(
      minBox([
        [1, 2, 3],
        [1, 2, 3],
      ]),
    ).toMatchObject({ rank: 0, volume: 0, sides: [0, 0, 0], centre: [1, 2, 3] });
  });
});

describe('side of a plane', () => {
  test('is exact where doubles are not', () => {
    const t = 0.1,
      u = 2 ** -60;
    // Points on a plane z = x: the fourth is off by one unit in the last place of 0.1.
    expect(sideOfPlane([0, 0, 0], [1, 0, 1], [0, 1, 0], [t, 0.3, t])).toBe(0);
    expect(sideOfPlane([0, 0, 0], [1, 0, 1], [0, 1, 0], [t, 0.3, t + 1.4e-17])).toBeGreaterThan(0);
    expect(sideOfPlane([0, 0, 0], [1, 0, 1], [0, 1, 0], [t, 0.3, t - 1.4e-17])).toBeLessThan(0);
    expect(sideOfPlane([0, 0, 0], [u, 0, 0], [0, u, 0], [u, u, -u * u])).toBeLessThan(0);
  });
});

describe('roots of a polynomial', () => {
  test('finds them all, double ones too', () => {
    // (t − 1)² (t + 2) (t − 0.25) = (t² − 2t + 1)(t² + 1.75 t − 0.5)
    const c = [-0.5, 2.75, -3, -0.25, 1];
    const roots = rootsBetween(c, -3, 3);
    for (const r of [-2, 0.25, 1]) expect(roots.some((x) => Math.abs(x - r) < 1e-6)).toBe(true);
    for (const x of roots) expectWithin(polynomialAt(c, x), 0, { absolute: 1e-12 });
  });

  test('says none where there is none', () => {
    expect(rootsBetween([1, 0, 1], -5, 5)).toEqual([]);
    expect(rootsBetween([7], -5, 5)).toEqual([]);
  });
});
