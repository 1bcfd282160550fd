/**
 * Clearance of one posture: the least gap over all pairs that must not touch, and the least between every two bodies.
 *
 * Pairs whose bounds are already farther apart than the best so far are skipped; what is reported is exact nevertheless.
 */
import { at3 } from '../math/rigid.ts';
import type { Topology } from '../model/types.ts';
import type { BodiesGap, Clash } from './clash-types.ts';
import { boundsApart, gapBetween } from './gap.ts';
import type { PosedShapes } from './posed-shapes.ts';

/** An empty result; with `pairs`, one gap per pair is kept as well. */
export function newClash(top?: Pick<Topology, 'pairs'>): Clash {
  const blank = { gap: Infinity, pair: -1, a: -1, b: -1, points: new Float64Array(6), overlap: 0, count: 0 };
  return top ? { ...blank, perPair: new Float64Array(top.pairs.length / 2) } : blank;
}

const w = new Float64Array(7);

/** Least gap over all `top.pairs` of a posture, into `out`. */
export function clash(top: Pick<Topology, 'pairs'>, posed: PosedShapes, out: Clash): void {
  const { pairs } = top;
  const { bounds } = posed;
  const { points, perPair } = out;
  let best = Infinity,
    reach = Infinity,
    at = -1,
    overlap = 0,
    count = 0;
  for (let k = 0, n = pairs.length; k < n; k += 2) {
    const a = pairs[k]!,
      b = pairs[k + 1]!;
    // Overlapping pairs are all wanted for the sum; the others only when they may beat the best.
    if (perPair === undefined && boundsApart(bounds, a, b, reach)) continue;
    const gap = gapBetween(posed, a, b, perPair === undefined ? reach : Infinity, w);
    if (perPair !== undefined) perPair[k >> 1] = gap;
    if (gap < 0) {
      overlap -= gap;
      count++;
    }
    if (gap < best) {
      best = gap;
      reach = gap > 0 ? gap : 0;
      at = k;
      for (let c = 0; c < 6; c++) points[c] = w[c]!;
    }
  }
  out.gap = best;
  out.pair = at < 0 ? -1 : at >> 1;
  out.a = at < 0 ? -1 : pairs[at]!;
  out.b = at < 0 ? -1 : pairs[at + 1]!;
  out.overlap = overlap;
  out.count = count;
}

/**
 * Least gap between every two bodies that have a pair to check, smallest first. Allocates; for sheets and drawings, not for
 * searches.
 */
export function leastBetweenBodies(
  top: Pick<Topology, 'pairs' | 'shapeBody' | 'bodyCount'>,
  posed: PosedShapes,
): BodiesGap[] {
  const { pairs, shapeBody, bodyCount } = top;
  const found = new Map<number, BodiesGap>();
  for (let k = 0; k < pairs.length; k += 2) {
    const a = pairs[k]!,
      b = pairs[k + 1]!;
    const swapped = shapeBody[a]! > shapeBody[b]!;
    const bodies = swapped ? ([shapeBody[b]!, shapeBody[a]!] as const) : ([shapeBody[a]!, shapeBody[b]!] as const);
    const key = bodies[0] * bodyCount + bodies[1];
    const best = found.get(key)?.gap ?? Infinity;
    if (best > 0 && boundsApart(posed.bounds, a, b, best)) continue;
    const gap = gapBetween(posed, a, b, best > 0 ? best : Infinity, w);
    if (!(gap < best)) continue;
    const pa = at3(w, 0),
      pb = at3(w, 3);
    found.set(key, { bodies, gap, shapes: swapped ? [b, a] : [a, b], points: swapped ? [pb, pa] : [pa, pb] });
  }
  return [...found.values()].sort((x, y) => x.gap - y.gap || x.shapes[0] - y.shapes[0] || x.shapes[1] - y.shapes[1]);
}
