/** Properties of the distance between any two shapes. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { motion, movedShape, scaledShape, shape, surfacePoints } from '../../../test/fixtures/random-shapes.ts';
import { dot, norm, sub, type Vec3 } from '../math/index.ts';
import { convexDistance, SHAPE } from './convex-distance.ts';
import { packShape, type SolidShape, shapeDistance } from './shape-distance.ts';

/** What the module promises, m. */
const PROMISED = { absolute: 1e-9 };
/** Coordinates of a metre in doubles, a few operations. */
const ON_SURFACE = 1e-8;
/** Overlap estimates start from directions computed anew: the slide down to the least may stop a little elsewhere. */
const ESTIMATE = { absolute: 1e-6, relative: 1e-3 };

/** How far a point lies outside a solid (0 on and inside), by elementary formulas. */
function outside(s: SolidShape, p: Vec3): number {
  if (s.kind === 'capsule') {
    const d = sub(s.to, s.from);
    const t = Math.min(1, Math.max(0, dot(sub(p, s.from), d) / (dot(d, d) || 1)));
    return Math.max(0, norm(sub(p, [s.from[0] + t * d[0], s.from[1] + t * d[1], s.from[2] + t * d[2]])) - s.radius);
  }
  const r = sub(p, s.centre);
  if (s.kind === 'disc') {
    const z = dot(r, s.normal);
    const rho = norm(sub(r, [z * s.normal[0], z * s.normal[1], z * s.normal[2]]));
    return norm([Math.max(0, Math.abs(z) - s.halfThickness), Math.max(0, rho - s.radius), 0]);
  }
  return norm(s.axes.map((a, k) => Math.max(0, Math.abs(dot(r, a)) - s.half[k]!)) as unknown as Vec3);
}

describe('distance of two shapes', () => {
  test('does not depend on the order of the shapes', () => {
    fc.assert(
      fc.property(shape, shape, (a, b) => {
        const there = shapeDistance(a, b),
          back = shapeDistance(b, a);
        expectWithin(there.distance, back.distance, PROMISED, { a, b });
        expectWithin(there.overlap, back.overlap, ESTIMATE, { a, b });
      }),
      { numRuns: 400 },
    );
  });

  test('does not change when both are moved as one', () => {
    fc.assert(
      fc.property(shape, shape, motion, (a, b, t) => {
        expectWithin(
          shapeDistance(movedShape(a, t), movedShape(b, t)).distance,
          shapeDistance(a, b).distance,
          PROMISED,
          { a, b },
        );
      }),
      { numRuns: 400 },
    );
  });

  test('grows with the shapes', () => {
    fc.assert(
      fc.property(shape, shape, fc.constantFrom(0.5, 3), (a, b, k) => {
        const { distance } = shapeDistance(a, b);
        expectWithin(shapeDistance(scaledShape(a, k), scaledShape(b, k)).distance, k * distance, {
          absolute: 4e-9,
        });
      }),
      { numRuns: 300 },
    );
  });

  test('is the distance between its nearest points, which lie on the shapes', () => {
    fc.assert(
      fc.property(shape, shape, (a, b) => {
        const { distance, points } = shapeDistance(a, b);
        if (distance === 0) return;
        expectWithin(norm(sub(points[0], points[1])), distance, PROMISED, { a, b });
        expect(outside(a, points[0])).toBeLessThan(ON_SURFACE);
        expect(outside(b, points[1])).toBeLessThan(ON_SURFACE);
      }),
      { numRuns: 400 },
    );
  });

  test('is never above the distance to points sampled on the surface, and within their spacing of it', () => {
    fc.assert(
      fc.property(shape, shape, (a, b) => {
        const { distance } = shapeDistance(a, b);
        // Point to solid is elementary, so only one surface needs sampling.
        const sampled = surfacePoints(a, 24).reduce((m, p) => Math.min(m, outside(b, p)), Infinity);
        expect(distance).toBeLessThanOrEqual(sampled + 1e-9);
        // 24 steps along at most 2.1 m of centre line or around a 0.3 m rim leave gaps of 0.09 m at most; the distance to a
        // convex solid changes by no more than half of that to the nearest sample.
        if (distance > 0) expect(sampled - distance).toBeLessThan(0.09);
      }),
      { numRuns: 150 },
    );
  });

  test('closed forms and the convex search agree on capsules', () => {
    fc.assert(
      fc.property(shape, shape, (a, b) => {
        if (a.kind !== 'capsule') return;
        const out = new Float64Array(7);
        const d = convexDistance(SHAPE.capsule, packShape(a), 0, SHAPE[b.kind], packShape(b), 0, Infinity, out);
        const pad = a.radius + (b.kind === 'capsule' ? b.radius : 0);
        expectWithin(shapeDistance(a, b).distance, Math.max(0, d - pad), PROMISED, { a, b });
        expect(out[6]!).toBeLessThanOrEqual(d);
      }),
      { numRuns: 600 },
    );
  });
});

describe('overlap of two shapes', () => {
  test('is positive exactly when the distance is 0 and the shapes share more than a touch', () => {
    fc.assert(
      fc.property(shape, shape, (a, b) => {
        const { distance, overlap } = shapeDistance(a, b);
        expect(distance > 0 && overlap > 0).toBe(false);
        if (distance > 1e-6) return;
        const inside = surfacePoints(a, 12).some((p) => outside(b, p) === 0);
        if (inside) expect(overlap).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });

  test('has a slope within the plane: a tube through a wheel in its own plane gets better towards the rim', () => {
    const wheel: SolidShape = { kind: 'disc', centre: [0, 0, 0], normal: [0, 1, 0], radius: 0.2, halfThickness: 0.025 };
    const at = (x: number): number =>
      shapeDistance(wheel, { kind: 'capsule', from: [x, 0, -0.5], to: [x, 0, 0.5], radius: 0.015 }).overlap;
    const seen = [0.02, 0.06, 0.1, 0.14, 0.18, 0.21].map(at);
    for (let k = 1; k < seen.length; k++) expect(seen[k]!).toBeLessThan(seen[k - 1]! - 0.01);
  });

  test('has a slope along two tubes that cross in one plane', () => {
    const at = (z: number): number =>
      shapeDistance(
        { kind: 'capsule', from: [0, 0, z], to: [0, 0, z + 0.4], radius: 0.015 },
        { kind: 'capsule', from: [-0.3, 0, 0], to: [0.3, 0, 0], radius: 0.015 },
      ).overlap;
    // The upright tube is pulled upwards, out of the level one.
    const seen = [-0.15, -0.1, -0.05, -0.01].map(at);
    for (let k = 1; k < seen.length; k++) expect(seen[k]!).toBeLessThan(seen[k - 1]! - 0.005);
  });

  test('starts from 0 at contact', () => {
    const slab: SolidShape = {
      kind: 'box',
      centre: [0, 0, 0],
      axes: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      half: [0.1, 0.1, 0.02],
    };
    const at = (z: number): number =>
      shapeDistance(slab, { kind: 'disc', centre: [0.02, 0, z], normal: [0, 1, 0], radius: 0.2, halfThickness: 0.01 })
        .overlap;
    expect(at(0.2201)).toBe(0);
    // 1 µm in: 1 µm deep; the share of the line of centres is (1e-6/0.03)² and does not count.
    expectWithin(at(0.219999), 1e-6, { relative: 0.01 });
  });
});
