/** Random shapes and motions for the property tests of this folder, through fast-check. m, rad. */
import fc from 'fast-check';
import { cross, dot, rotationAbout, turnVector, unit, type Vec3 } from '../math/index.ts';
import type { SolidShape } from './shape-distance.ts';

const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const place = fc.tuple(number(-0.6, 0.6), number(-0.6, 0.6), number(-0.6, 0.6)) as fc.Arbitrary<Vec3>;

/** Directions all over the sphere: height and longitude. */
export const direction: fc.Arbitrary<Vec3> = fc.tuple(number(-1, 1), number(0, 2 * Math.PI)).map(([z, a]): Vec3 => {
  const r = Math.sqrt(1 - z * z);
  return unit([r * Math.cos(a), r * Math.sin(a), z]);
});
/** A rotation about a direction through the origin, then a shift: 12 numbers. */
export const motion: fc.Arbitrary<Float64Array> = fc
  .tuple(direction, number(-3, 3), place)
  .map(([axis, angle, shift]) => {
    const t = new Float64Array(12);
    rotationAbout(0, 0, 0, ...axis, angle, t);
    t[3]! += shift[0];
    t[7]! += shift[1];
    t[11]! += shift[2];
    return t;
  });

const capsule = fc
  .tuple(place, place, number(0.005, 0.05))
  .map(([from, to, radius]): SolidShape => ({ kind: 'capsule', from, to, radius }));
const disc = fc
  .tuple(place, direction, number(0.05, 0.3), number(0.002, 0.03))
  .map(
    ([centre, normal, radius, halfThickness]): SolidShape => ({ kind: 'disc', centre, normal, radius, halfThickness }),
  );
const box = fc
  .tuple(place, direction, direction, number(0.01, 0.1), number(0.01, 0.1), number(0.01, 0.1))
  .filter(([, x, y]) => {
    const n = cross(x, y);
    return n[0] * n[0] + n[1] * n[1] + n[2] * n[2] > 0.01;
  })
  .map(([centre, x, y, a, b, c]): SolidShape => {
    const z = unit(cross(x, y));
    return { kind: 'box', centre, axes: [x, cross(z, x), z], half: [a, b, c] };
  });
export const shape: fc.Arbitrary<SolidShape> = fc.oneof(capsule, disc, box);

/** The same shape after a motion. */
export function movedShape(s: SolidShape, t: Float64Array): SolidShape {
  const point = (p: Vec3): Vec3 => {
    const v = turnVector(t, 0, p);
    return [v[0] + t[3]!, v[1] + t[7]!, v[2] + t[11]!];
  };
  if (s.kind === 'capsule') return { ...s, from: point(s.from), to: point(s.to) };
  if (s.kind === 'disc') return { ...s, centre: point(s.centre), normal: turnVector(t, 0, s.normal) };
  const [x, y, z] = s.axes;
  return { ...s, centre: point(s.centre), axes: [turnVector(t, 0, x), turnVector(t, 0, y), turnVector(t, 0, z)] };
}

/** The same shape with every length multiplied. */
export function scaledShape(s: SolidShape, k: number): SolidShape {
  const v = (p: Vec3): Vec3 => [k * p[0], k * p[1], k * p[2]];
  if (s.kind === 'capsule') return { ...s, from: v(s.from), to: v(s.to), radius: k * s.radius };
  if (s.kind === 'disc') return { ...s, centre: v(s.centre), radius: k * s.radius, halfThickness: k * s.halfThickness };
  return { ...s, centre: v(s.centre), half: v(s.half) };
}

/** Points all over the solid's surface; `n` sets how many, roughly 2 n². Independent of the distance routines. */
export function surfacePoints(s: SolidShape, n: number): Vec3[] {
  const out: Vec3[] = [];
  const add = (o: Vec3, ...terms: readonly [number, Vec3][]): void => {
    out.push(terms.reduce((p, [k, v]): Vec3 => [p[0] + k * v[0], p[1] + k * v[1], p[2] + k * v[2]], o));
  };
  if (s.kind === 'box') {
    const [x, y, z] = s.axes;
    const [a, b, c] = s.half;
    for (let i = 0; i <= n; i++)
      for (let j = 0; j <= n; j++) {
        const u = (2 * i) / n - 1,
          v = (2 * j) / n - 1;
        for (const w of [-1, 1]) {
          add(s.centre, [w * a, x], [u * b, y], [v * c, z]);
          add(s.centre, [u * a, x], [w * b, y], [v * c, z]);
          add(s.centre, [u * a, x], [v * b, y], [w * c, z]);
        }
      }
    return out;
  }
  const axis: Vec3 =
    s.kind === 'disc' ? unit(s.normal) : [s.to[0] - s.from[0], s.to[1] - s.from[1], s.to[2] - s.from[2]];
  // A capsule without length is a ball: any direction will do.
  const along: Vec3 = s.kind === 'disc' ? axis : dot(axis, axis) > 1e-20 ? unit(axis) : [1, 0, 0];
  const u = unit(cross(along, Math.abs(along[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
  const v = cross(along, u);
  for (let i = 0; i < 2 * n; i++) {
    const c = Math.cos((Math.PI * i) / n),
      q = Math.sin((Math.PI * i) / n);
    for (let j = 0; j <= n; j++) {
      const k = j / n;
      if (s.kind === 'disc') {
        for (const w of [-1, 1])
          add(s.centre, [w * s.halfThickness, along], [k * s.radius * c, u], [k * s.radius * q, v]);
        add(s.centre, [(2 * k - 1) * s.halfThickness, along], [s.radius * c, u], [s.radius * q, v]);
      } else {
        add(s.from, [k, axis], [s.radius * c, u], [s.radius * q, v]);
        const a = (Math.PI / 2) * k;
        for (const [end, way] of [
          [s.from, -1],
          [s.to, 1],
        ] as const)
          add(
            end,
            [way * s.radius * Math.sin(a), along],
            [s.radius * Math.cos(a) * c, u],
            [s.radius * Math.cos(a) * q, v],
          );
      }
    }
  }
  return out;
}
