/**
 * A second opinion on geometry, for tests only: motions and distances in the plainest way there is, sharing no code with
 * the kernel's own.
 *
 * Motions: every move turns or shifts what hangs behind its joint about the joint's axis where that axis is at that moment
 * (the kernel multiplies exponentials in the ride posture). Distances: the signed distance from a point to a solid is a convex
 * function, and is minimised over the points of the other solid by ternary search (tubes) or by a grid that closes in (discs,
 * boxes); the kernel uses closed forms and the convex search of Gilbert, Johnson and Keerthi. A gap found here is that of an actual pair of points, so
 * it can be too large by the search's last step, never too small.
 */
import type { Model, State } from '#kernel';

export type V = readonly [number, number, number];
/** Rotation rows and shift: x → R x + t. */
export interface Motion {
  readonly r: readonly [V, V, V];
  readonly t: V;
}
export interface Shape {
  readonly name: string;
  readonly body: number;
  readonly kind: 'tube' | 'disc' | 'box';
  readonly centre: V;
  /** Tube: half its core's length along `axes[0]`. Disc: `axes[0]` is its normal. */
  readonly axes: readonly [V, V, V];
  /** Tube: [half length, radius, 0]; disc: [half thickness, radius, 0]; box: half sizes. */
  readonly size: V;
}

const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const plus = (a: V, b: V, k = 1): V => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const long = (a: V): number => Math.sqrt(dot(a, a));
const at = (list: Float64Array, o: number): V => [list[o]!, list[o + 1]!, list[o + 2]!];

/** Two directions across `n`. */
function across(n: V): [V, V] {
  const helper: V = Math.abs(n[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const raw = cross(n, helper);
  const u = plus([0, 0, 0], raw, 1 / long(raw));
  return [u, cross(n, u)];
}

/** All shapes as the file's reading has them in the ride posture: data, not method. */
export function rideShapes(model: Model, s: State): Shape[] {
  const { names, nCapsule, nDisc, nBox, shapeBody } = model.top;
  const out: Shape[] = [];
  const add = (shape: Omit<Shape, 'name' | 'body'>): void => {
    const i = out.length;
    out.push({ ...shape, name: names.shapes[i]!, body: shapeBody[i]! });
  };
  for (let i = 0; i < nCapsule; i++) {
    const [p, q] = [at(s.capsule, 7 * i), at(s.capsule, 7 * i + 3)];
    const d = plus(q, p, -1);
    const l = long(d);
    const n: V = l > 0 ? plus([0, 0, 0], d, 1 / l) : [0, 0, 1];
    add({ kind: 'tube', centre: plus(p, d, 0.5), axes: [n, ...across(n)], size: [l / 2, s.capsule[7 * i + 6]!, 0] });
  }
  for (let i = 0; i < nDisc; i++) {
    const n = at(s.disc, 8 * i + 3);
    const [radius, half] = [s.disc[8 * i + 6]!, s.disc[8 * i + 7]!];
    add({ kind: 'disc', centre: at(s.disc, 8 * i), axes: [n, ...across(n)], size: [half, radius, 0] });
  }
  for (let i = 0; i < nBox; i++) {
    const o = 15 * i;
    const axes = [at(s.box, o + 3), at(s.box, o + 6), at(s.box, o + 9)] as const;
    add({ kind: 'box', centre: at(s.box, o), axes, size: at(s.box, o + 12) });
  }
  return out;
}

export const still: Motion = {
  r: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  t: [0, 0, 0],
};
const direct = ({ r }: Motion, v: V): V => [dot(r[0], v), dot(r[1], v), dot(r[2], v)];
export const carry = (m: Motion, p: V): V => plus(direct(m, p), m.t);
/** First `b`, then `a`. */
export function after(a: Motion, b: Motion): Motion {
  const column = (k: 0 | 1 | 2): V => direct(a, [b.r[0][k], b.r[1][k], b.r[2][k]]);
  const [x, y, z] = [column(0), column(1), column(2)];
  return {
    r: [
      [x[0], y[0], z[0]],
      [x[1], y[1], z[1]],
      [x[2], y[2], z[2]],
    ],
    t: carry(a, b.t),
  };
}
/** Turn about the line through `p` along the unit vector `w`: each base vector split along and across the axis. */
export function turnAbout(p: V, w: V, angle: number): Motion {
  const turned = (v: V): V => {
    const along = plus([0, 0, 0], w, dot(w, v));
    const off = plus(v, along, -1);
    return plus(plus(along, off, Math.cos(angle)), cross(w, off), Math.sin(angle));
  };
  const [x, y, z] = [turned([1, 0, 0]), turned([0, 1, 0]), turned([0, 0, 1])];
  const spin: Motion = {
    r: [
      [x[0], y[0], z[0]],
      [x[1], y[1], z[1]],
      [x[2], y[2], z[2]],
    ],
    t: [0, 0, 0],
  };
  return { ...spin, t: plus(p, carry(spin, p), -1) };
}
export const shift = (w: V, length: number): Motion => ({ ...still, t: plus([0, 0, 0], w, length) });

export function moveShape(shape: Shape, m: Motion): Shape {
  const [a, b, c] = shape.axes;
  return { ...shape, centre: carry(m, shape.centre), axes: [direct(m, a), direct(m, b), direct(m, c)] };
}

/** How far the shape reaches along the unit vector `d`. */
export function reach(shape: Shape, d: V): number {
  const { kind, centre, axes, size } = shape;
  const c = dot(centre, d);
  if (kind === 'tube') return c + Math.abs(dot(axes[0], d)) * size[0] + size[1];
  if (kind === 'disc') {
    const n = dot(axes[0], d);
    return c + Math.abs(n) * size[0] + Math.sqrt(Math.max(0, 1 - n * n)) * size[1];
  }
  return c + size.reduce((sum, h, k) => sum + h * Math.abs(dot(axes[k]!, d)), 0);
}

/** Signed distance from a point to the solid's surface, negative inside. */
export function toSolid(p: V, { kind, centre, axes, size }: Shape): number {
  const v = plus(p, centre, -1);
  const a = dot(v, axes[0]);
  const b = dot(v, axes[1]);
  const c = dot(v, axes[2]);
  if (kind === 'tube') {
    const beyond = Math.max(0, Math.abs(a) - size[0]);
    return Math.sqrt(beyond * beyond + b * b + c * c) - size[1];
  }
  const x = Math.abs(a) - size[0];
  const y = kind === 'disc' ? Math.sqrt(b * b + c * c) - size[1] : Math.abs(b) - size[1];
  const z = kind === 'disc' ? -1 : Math.abs(c) - size[2];
  const outside = Math.sqrt(Math.max(0, x) ** 2 + Math.max(0, y) ** 2 + Math.max(0, z) ** 2);
  return outside > 0 ? outside : Math.max(x, y, z);
}

/** A point of the solid from three numbers in [-1, 1]; a disc's square of parameters is clipped to the circle. */
function pointOf({ kind, centre, axes, size }: Shape, u: number, v: number, w: number): V {
  let [b, c] = [v, w];
  if (kind === 'disc') {
    const rho = Math.sqrt(b * b + c * c);
    if (rho > 1) [b, c] = [b / rho, c / rho];
  }
  const across2 = kind === 'disc' ? size[1] : size[2];
  return plus(plus(plus(centre, axes[0], u * size[0]), axes[1], b * size[1]), axes[2], c * across2);
}

/** Least distance between two solids, as far as it is below `beyond`; negative where they overlap (then no depth, only a sign). */
export function gap(a: Shape, b: Shape, beyond: number): number {
  if (b.kind === 'tube') return alongTube(b, a);
  if (a.kind === 'tube') return alongTube(a, b);
  return closingGrid(a.kind === 'box' ? a : b, a.kind === 'box' ? b : a, beyond);
}
function alongTube(tube: Shape, other: Shape): number {
  const f = (t: number): number => toSolid(plus(tube.centre, tube.axes[0], t), other);
  let lo = -tube.size[0];
  let hi = tube.size[0];
  for (let k = 0; k < 60; k++) {
    const [l, h] = [lo + (hi - lo) / 3, hi - (hi - lo) / 3];
    if (f(l) <= f(h)) hi = h;
    else lo = l;
  }
  return Math.min(f(lo), f(hi)) - tube.size[1];
}
function closingGrid(a: Shape, b: Shape, beyond: number): number {
  // A distance changes by no more than the point moves: no point of a cell is nearer than its middle less half the cell.
  const [p, q, r] = [a.size[0], a.size[1], a.kind === 'disc' ? a.size[1] : a.size[2]];
  const whole = Math.sqrt(p * p + q * q + r * r);
  let best = Number.POSITIVE_INFINITY;
  let centre: V = [0, 0, 0];
  for (let half = 1; half > 1e-5; half *= 0.6) {
    let found = centre;
    for (let i = -2; i <= 2; i++)
      for (let j = -2; j <= 2; j++)
        for (let k = -2; k <= 2; k++) {
          const u: V = [
            clip(centre[0] + (i * half) / 2),
            clip(centre[1] + (j * half) / 2),
            clip(centre[2] + (k * half) / 2),
          ];
          const d = toSolid(pointOf(a, ...u), b);
          if (d < best) {
            best = d;
            found = u;
          }
        }
    centre = found;
    if (best - (half / 4) * whole > beyond) return best;
  }
  return best;
}
const clip = (x: number): number => Math.max(-1, Math.min(1, x));

/** Two numbers that pairs of shapes are known by. */
export const pairKey = (a: number, b: number): number => (a < b ? a * 10000 + b : b * 10000 + a);

/** All pairs on different bodies that are not left out, by shape index. */
export function pairsOf(shapes: readonly Shape[], leftOut: ReadonlySet<number>): [number, number][] {
  const out: [number, number][] = [];
  for (let a = 0; a < shapes.length; a++)
    for (let b = a + 1; b < shapes.length; b++)
      if (shapes[a]!.body !== shapes[b]!.body && !leftOut.has(pairKey(a, b))) out.push([a, b]);
  return out;
}

export interface Nearest {
  readonly gap: number;
  readonly pair: readonly [number, number];
}
/** The nearest of the pairs; those whose surrounding boxes are `beyond` apart are passed over. */
export function nearest(
  shapes: readonly Shape[],
  pairs: readonly (readonly [number, number])[],
  beyond: number,
): Nearest | undefined {
  const bounds = shapes.map((s) =>
    (
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const
    ).map((d) => [-reach(s, [-d[0], -d[1], -d[2]]), reach(s, d)] as const),
  );
  let least: Nearest | undefined;
  for (const [a, b] of pairs) {
    const [p, q] = [bounds[a]!, bounds[b]!];
    if ([0, 1, 2].some((k) => p[k]![0] - q[k]![1] > beyond || q[k]![0] - p[k]![1] > beyond)) continue;
    const d = gap(shapes[a]!, shapes[b]!, least?.gap ?? beyond);
    if (d < (least?.gap ?? beyond)) least = { gap: d, pair: [a, b] };
  }
  return least;
}

/** Bodies that hang behind joint `j` when the joints in `gone` are absent: what is reached from its second body without passing it. */
export function behind({ top }: Model, j: number, gone: ReadonlySet<number>): Set<number> {
  const found = new Set([top.jointB[j]!]);
  for (let grew = true; grew; ) {
    grew = false;
    for (let k = 0; k < top.kind.length; k++) {
      if (k === j || gone.has(k)) continue;
      const [a, b] = [top.jointA[k]!, top.jointB[k]!];
      if (found.has(a) === found.has(b)) continue;
      found.add(a).add(b);
      grew = true;
    }
  }
  return found;
}

/** Motion of joint j by `amount`, its axis carried along by `carried`. */
export function jointMotion({ top }: Model, s: State, j: number, carried: Motion, amount: number): Motion {
  const p = carry(carried, at(s.joint, 6 * j));
  const w = direct(carried, at(s.joint, 6 * j + 3));
  const slides = top.kind[j] === 1 || top.kind[j] === 3;
  return slides ? shift(w, amount) : turnAbout(p, w, amount);
}
