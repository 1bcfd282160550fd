/**
 * Tubes that run inside others: posts in seat tubes, steerers in head tubes, rails in sleeves. The outer one's bore is what the
 * inner one, its bearings or its shim fit, and the inner one's outside is what fits the bore, so that sizing leaves both alone.
 *
 * Found by geometry in the ride posture: straight, on one axis, overlapping, the smaller no larger than the bore. Units: mm.
 */
import { cross, dot, type FrameTube, norm, sub, unit, type Vec3 } from '#kernel';

/** Off the axis by less than this, mm, and out of line by less than this sine, tubes are on one axis. */
const OFF_AXIS = 1;
const OUT_OF_LINE = 0.01;
/** They share at least this length, mm. */
const OVERLAP = 5;
/** An inner tube may be drawn this much larger than the bore that it is fitted to, mm. */
const FIT = 0.3;

export interface Nest {
  /** Tubes of the beam model. */
  readonly outer: number;
  readonly inner: number;
}

const ends = (t: FrameTube): readonly [Vec3, Vec3] | undefined =>
  t.points.length === 2 && !t.given ? [t.points[0]!, t.points[1]!] : undefined;

export function nests(tubes: readonly FrameTube[]): readonly Nest[] {
  const out: Nest[] = [];
  tubes.forEach((a, outer) => {
    const line = ends(a);
    if (!line) return;
    const along = unit(sub(line[1], line[0]));
    const length = norm(sub(line[1], line[0]));
    tubes.forEach((b, inner) => {
      const other = inner === outer ? undefined : ends(b);
      if (!other || !fitsInto(a, b)) return;
      if (norm(cross(unit(sub(other[1], other[0])), along)) > OUT_OF_LINE) return;
      const feet = other.map((p) => dot(sub(p, line[0]), along)) as [number, number];
      const off = other.map((p, i) =>
        norm(sub(sub(p, line[0]), [along[0] * feet[i]!, along[1] * feet[i]!, along[2] * feet[i]!])),
      );
      const shared = Math.min(length, Math.max(...feet)) - Math.max(0, Math.min(...feet));
      if (Math.max(...off) < OFF_AXIS && shared > OVERLAP) out.push({ outer, inner });
    });
  });
  return out;
}

function fitsInto(a: FrameTube, b: FrameTube): boolean {
  const bore = (k: 'height' | 'width'): number => Math.min(...a.ends.map((e) => e[k] - 2 * e.wall));
  const size = (k: 'height' | 'width'): number => Math.max(...b.ends.map((e) => e[k]));
  return size('height') <= bore('height') + FIT && size('width') <= bore('width') + FIT;
}
