import fc from 'fast-check';
import { describe, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import type { Vec3 } from '../math/rigid.ts';
import { pointDistance } from './point-distance.ts';
import type { PosedShapes } from './posed-shapes.ts';
import { packShape, type SolidShape, shapeDistance } from './shape-distance.ts';

const posedOf = (shape: SolidShape): PosedShapes => {
  const empty = new Float64Array(0);
  const blank = { nCapsule: 0, nDisc: 0, nBox: 0, capsule: empty, disc: empty, box: empty, bounds: empty };
  const data = packShape(shape);
  if (shape.kind === 'capsule') return { ...blank, nCapsule: 1, capsule: data };
  if (shape.kind === 'disc') return { ...blank, nDisc: 1, disc: data };
  return { ...blank, nBox: 1, box: data };
};
const coordinate = fc.double({ min: -1, max: 1, noNaN: true });
const point = fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<Vec3>;
const size = fc.double({ min: 0.01, max: 0.5, noNaN: true });
const shape: fc.Arbitrary<SolidShape> = fc.oneof(
  fc.record({ kind: fc.constant('capsule' as const), from: point, to: point, radius: size }),
  fc
    .record({ centre: point, normal: point, radius: size, halfThickness: size })
    .filter(({ normal }) => Math.abs(normal[0]) + Math.abs(normal[1]) + Math.abs(normal[2]) > 0.1)
    .map((d) => ({ kind: 'disc' as const, ...d })),
  fc
    .record({
      centre: point,
      half: fc.tuple(size, size, size) as fc.Arbitrary<Vec3>,
      turn: fc.double({ min: 0, max: 3, noNaN: true }),
    })
    .map(
      ({ centre, half, turn }): SolidShape => ({
        kind: 'box',
        centre,
        half,
        axes: [
          [Math.cos(turn), 0, -Math.sin(turn)],
          [0, 1, 0],
          [Math.sin(turn), 0, Math.cos(turn)],
        ],
      }),
    ),
);
/** The general routine is exact to 1e-9 m when apart. */
const GENERAL = 2e-9;

describe('the signed distance of a point to a shape', () => {
  it('is the distance of a tiny ball that the general routine finds, where they are apart', () => {
    fc.assert(
      fc.property(shape, point, (s, p) => {
        const d = pointDistance(posedOf(s), 0, ...p);
        const { distance } = shapeDistance({ kind: 'capsule', from: p, to: p, radius: 0 }, s);
        if (d > 0) expectWithin(d, distance, { absolute: GENERAL }, { s, p });
        else expectWithin(distance, 0, { absolute: GENERAL }, { s, p });
      }),
      { numRuns: 400, seed: 3 },
    );
  });

  it('grows by no more than the way that the point moves, inside and outside', () => {
    fc.assert(
      fc.property(shape, point, point, (s, p, q) => {
        const posed = posedOf(s);
        const way = Math.sqrt(
          (p[0] - q[0]) * (p[0] - q[0]) + (p[1] - q[1]) * (p[1] - q[1]) + (p[2] - q[2]) * (p[2] - q[2]),
        );
        const change = Math.abs(pointDistance(posed, 0, ...p) - pointDistance(posed, 0, ...q));
        expectWithin(Math.max(0, change - way), 0, { absolute: 1e-12 }, { s, p, q });
      }),
      { numRuns: 400, seed: 4 },
    );
  });

  it('is minus the way out at the middle of a box and a ball', () => {
    const box = posedOf({
      kind: 'box',
      centre: [1, 2, 3],
      half: [0.3, 0.1, 0.2],
      axes: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
    });
    expectWithin(pointDistance(box, 0, 1, 2, 3), -0.1, { absolute: 1e-15 });
    const ball = posedOf({ kind: 'capsule', from: [0, 0, 1], to: [0, 0, 1], radius: 0.25 });
    expectWithin(pointDistance(ball, 0, 0, 0, 1), -0.25, { absolute: 1e-15 });
  });
});
