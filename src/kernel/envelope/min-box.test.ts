/** Hull and least box: properties. The published solids are in verification/envelope. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { motion } from '../../../test/fixtures/random-shapes.ts';
import { dot, movePoint, sub, type Vec3 } from '../math/index.ts';
import { convexHull, hullVolume } from './hull.ts';
import { minBox } from './min-box.ts';
import { polynomialAt, rootsBetween } from './real-roots.ts';

const coordinate = fc.double({ min: -0.5, max: 0.5, noNaN: true });
const cloud = (least: number, most: number): fc.Arbitrary<Vec3[]> =>
  fc.array(fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<Vec3>, { minLength: least, maxLength: most });
/** Sums of a few products of metre-sized numbers. */
const ROUNDING = 1e-12;

describe('convex hull', () => {
  test('holds every point, and every face has points on it only on one side', () => {
    fc.assert(
      fc.property(cloud(5, 40), (points) => {
        const hull = convexHull(points);
        for (const f of hull.faces)
          for (const p of points) expect(dot(f.normal, p) - f.offset).toBeLessThanOrEqual(1e-11);
      }),
      { numRuns: 150 },
    );
  });

  test('obeys Euler: corners − edges + faces = 2', () => {
    fc.assert(
      fc.property(cloud(5, 40), (points) => {
        const { rank, faces } = convexHull(points);
        if (rank < 3) return;
        const corners = new Set(faces.flatMap((f) => f.corners)).size;
        expect(corners - (3 * faces.length) / 2 + faces.length).toBe(2);
      }),
      { numRuns: 150 },
    );
  });

  test('has the same volume in any order and pose', () => {
    fc.assert(
      fc.property(cloud(5, 20), motion, (points, t) => {
        const volume = hullVolume(points, convexHull(points));
        const other = points.map((p) => movePoint(t, 0, p)).reverse();
        expectWithin(hullVolume(other, convexHull(other)), volume, { absolute: ROUNDING });
      }),
      { numRuns: 100 },
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
      { numRuns: 40 },
    );
  });

  test('has the same volume whatever the order and the pose of the points', () => {
    fc.assert(
      fc.property(cloud(4, 10), motion, (points, t) => {
        const { volume } = minBox(points);
        expectWithin(minBox(points.map((p) => movePoint(t, 0, p)).reverse()).volume, volume, { absolute: 1e-9 });
      }),
      { numRuns: 25 },
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
      { numRuns: 15 },
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
