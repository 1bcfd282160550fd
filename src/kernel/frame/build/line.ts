/**
 * Centre lines of tubes as polylines: bends become chords, every point has its distance along the line.
 *
 * A bend of radius R is cut into chords of at most 15°, inscribed: a chord is shorter than its arc by θ²/24, 0.29 % of the
 * bend, and a straight tube stays exact.
 * Source: theory. Units: mm.
 * Not here: mitres; where lines meet (`connect.ts`).
 */
import { developedLength } from '../../mass/tube.ts';
import { add, cross, dot, norm, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { FrameTube, TubeEnd } from './parts.ts';

const CHORD = Math.PI / 12;

export interface Line {
  readonly points: readonly Vec3[];
  /** Distance along the line of every point; the last is its length. */
  readonly along: readonly number[];
  readonly length: number;
}

/** @throws RangeError where the tube's bends do not fit or it has no length. */
export function lineOf(tube: FrameTube): Line {
  const { points, bendRadius } = tube;
  if (points.length === 2 && norm(sub(points[1]!, points[0]!)) > 0) return measured(points);
  const developed = developedLength(points, bendRadius);
  if (developed.tooShort >= 0) throw new RangeError(`tube ${tube.name}: leg ${developed.tooShort + 1} is too short`);
  const out: Vec3[] = [points[0]!];
  for (let i = 1; i + 1 < points.length; i++) {
    const corner = points[i]!;
    const bend = developed.bends[i - 1]!;
    if (!(bend.arc > 0)) {
      out.push(corner);
      continue;
    }
    const before = toward(corner, points[i - 1]!);
    const after = toward(corner, points[i + 1]!);
    const start = add(corner, scale(before, bend.setback));
    const inward = add(before, after);
    const centre = add(corner, scale(inward, bendRadius / (Math.cos(bend.angle / 2) * norm(inward))));
    const r0 = sub(start, centre);
    const t0 = scale(before, -1);
    const chords = Math.max(1, Math.ceil(bend.angle / CHORD - 1e-9));
    const radius = norm(r0);
    for (let k = 0; k <= chords; k++) {
      const a = (bend.angle * k) / chords;
      out.push(add(centre, add(scale(r0, Math.cos(a)), scale(t0, radius * Math.sin(a)))));
    }
  }
  out.push(points.at(-1)!);
  return measured(out.filter((p, i) => i === 0 || norm(sub(p, out[i - 1]!)) > 1e-9));
}

function measured(points: readonly Vec3[]): Line {
  const along = [0];
  for (let i = 1; i < points.length; i++) along.push(along[i - 1]! + norm(sub(points[i]!, points[i - 1]!)));
  return { points, along, length: along.at(-1)! };
}
function toward(from: Vec3, to: Vec3): Vec3 {
  const d = sub(to, from);
  return scale(d, 1 / norm(d));
}

/** Index of the leg that holds the distance `s`. */
export function legAt(line: Line, s: number): number {
  let i = 0;
  while (i + 2 < line.points.length && line.along[i + 1]! < s) i++;
  return i;
}
export function pointAt(line: Line, s: number): Vec3 {
  const i = legAt(line, s);
  const a = line.points[i]!;
  const b = line.points[i + 1]!;
  return add(a, scale(sub(b, a), (s - line.along[i]!) / (line.along[i + 1]! - line.along[i]!)));
}
export function directionAt(line: Line, s: number): Vec3 {
  const i = legAt(line, s);
  return toward(line.points[i]!, line.points[i + 1]!);
}

export interface Foot {
  /** Distance along the line, the point there, and how far away it is. */
  readonly s: number;
  readonly point: Vec3;
  readonly distance: number;
}
/** Point of the line nearest to `p`. */
export function footOn(line: Line, p: Vec3): Foot {
  let best = Number.POSITIVE_INFINITY;
  let s = 0;
  let point = line.points[0]!;
  for (let i = 0; i + 1 < line.points.length; i++) {
    const a = line.points[i]!;
    const d = sub(line.points[i + 1]!, a);
    const t = Math.min(1, Math.max(0, dot(sub(p, a), d) / dot(d, d)));
    const q = add(a, scale(d, t));
    const distance = norm(sub(p, q));
    if (distance < best) {
      best = distance;
      s = line.along[i]! + t * (line.along[i + 1]! - line.along[i]!);
      point = q;
    }
  }
  return { s, point, distance: best };
}

/** Outside sizes at a distance along the tube. */
export function sizeAt(tube: FrameTube, line: Line, s: number): TubeEnd {
  const [a, b] = tube.ends;
  const t = s / line.length;
  return {
    height: a.height + t * (b.height - a.height),
    width: a.width + t * (b.width - a.width),
    wall: a.wall + t * (b.wall - a.wall),
  };
}

/** How far the tube reaches from its centre line towards `toward` (a direction, any length), at a distance along it. */
export function reachAt(
  tube: FrameTube,
  line: Line,
  s: number,
  towards: Vec3,
  axes: { width: Vec3; height: Vec3 },
): number {
  const { height, width } = sizeAt(tube, line, s);
  if (tube.shape === 'round') return height / 2;
  const n = norm(towards);
  const h = n > 0 ? dot(towards, axes.height) / n : 0;
  const w = n > 0 ? dot(towards, axes.width) / n : 0;
  if (tube.shape === 'oval') {
    const a = (2 * h) / height;
    const b = (2 * w) / width;
    const square = a * a + b * b;
    return square > 0 ? 1 / Math.sqrt(square) : Math.min(height, width) / 2;
  }
  const reach = Math.min(
    Math.abs(h) > 1e-9 ? height / (2 * Math.abs(h)) : Number.POSITIVE_INFINITY,
    Math.abs(w) > 1e-9 ? width / (2 * Math.abs(w)) : Number.POSITIVE_INFINITY,
  );
  return Number.isFinite(reach) ? reach : Math.min(height, width) / 2;
}

/** Sine of the angle between two directions. */
export const sineBetween = (a: Vec3, b: Vec3): number => norm(cross(a, b)) / (norm(a) * norm(b));
