/** Points of a drawing that lettering should not cover: along tubes and their edges, around wheels, over boxes. */
import { add, type Solid, scale, type Vec3 } from '#kernel';
import type { Point2 } from './svg.ts';
import { pointAt } from './view.ts';

const STEP = 8;

/** Points every few px from `a` to `b`. */
export function alongLine(a: Point2, b: Point2): Point2[] {
  const steps = Math.max(1, Math.ceil((Math.abs(b[0] - a[0]) + Math.abs(b[1] - a[1])) / STEP));
  return Array.from(
    { length: steps + 1 },
    (_, i): Point2 => [a[0] + ((b[0] - a[0]) * i) / steps, a[1] + ((b[1] - a[1]) * i) / steps],
  );
}

/** `place` puts a point on the paper at `px` per metre. */
export function inkPoints(solid: Solid, place: (p: Vec3) => Point2, px: number): Point2[] {
  const out: Point2[] = [];
  for (let o = 0; o < solid.capsule.length; o += 7) {
    const [p, q] = [place(pointAt(solid.capsule, o)), place(pointAt(solid.capsule, o + 3))];
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const l = Math.sqrt(dx * dx + dy * dy) || 1;
    const r = solid.capsule[o + 6]! * px;
    for (const side of [-r, 0, r]) {
      const off: Point2 = [(-dy / l) * side, (dx / l) * side];
      out.push(...alongLine([p[0] + off[0], p[1] + off[1]], [q[0] + off[0], q[1] + off[1]]));
    }
  }
  for (let o = 0; o < solid.disc.length; o += 8) {
    const c = place(pointAt(solid.disc, o));
    const r = solid.disc[o + 6]! * px;
    for (let i = 0; i < 64; i++) {
      const a = (2 * Math.PI * i) / 64;
      for (const share of [1, 0.85]) out.push([c[0] + share * r * Math.cos(a), c[1] + share * r * Math.sin(a)]);
    }
  }
  for (let o = 0; o < solid.box.length; o += 15) {
    const corner = (signs: readonly number[]): Point2 =>
      place(
        signs.reduce(
          (p, sign, k) => add(p, scale(pointAt(solid.box, o + 3 + 3 * k), sign * solid.box[o + 12 + k]!)),
          pointAt(solid.box, o),
        ),
      );
    // the twelve edges, and the line through the middle along each axis
    for (const axis of [0, 1, 2])
      for (const [u, v] of [
        [-1, -1],
        [-1, 1],
        [1, -1],
        [1, 1],
        [0, 0],
      ] as const) {
        const signs = (end: number): number[] =>
          [0, 1, 2].map((k) => (k === axis ? end : k === (axis + 1) % 3 ? u : v));
        out.push(...alongLine(corner(signs(-1)), corner(signs(1))));
      }
  }
  return out;
}
