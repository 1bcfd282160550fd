/**
 * How joints and places are tied to the members of their bodies; which tubes the steerer turns in.
 *
 * A point is tied to the block that holds it or to the nearest tube; of a joint all tubes that lie as near are tied alike (two
 * stays on one axle). A tube that ends at a joint is rigid for the joint's cut-out: the hardware stands in for it. A joint that
 * stands farther from its member than `BRIDGE` is reported with the bridges.
 * Units: mm. Not here: springs (`elements.ts`).
 */
import { cross, dot, invert, movePoint, type Numbers, norm, scale, sub, type Vec3 } from '../../math/rigid.ts';
import { ALIKE, BRIDGE, type Mark, type Ties } from './connect.ts';
import { footOn, pointAt } from './line.ts';
import type { FrameHinge } from './parts.ts';

/** A tube is coaxial with the steering axis when its ends lie as near to it as this, mm, and it is this long. */
const COAXIAL = 6;
const HEAD_LENGTH = 40;

/** What a point is tied to, and how far from the point its surface is. */
export interface Side {
  readonly item: number;
  readonly name: string;
  readonly gap: number;
}

/** A point in mm carried by a transform in SI. */
export function posePoint(bodyT: Numbers, body: number, p: Vec3): Vec3 {
  return scale(movePoint(bodyT, 12 * body, scale(p, 1e-3)), 1e3);
}

/** Ties a point of a body to the block that holds it or the tube nearest to it; undefined for a body without members. */
export function tiePoint(ties: Ties, body: number, p: Vec3): Side | undefined {
  let best: { distance: number; name: string; gap: number; item(): number } | undefined;
  ties.blocks.forEach((b, i) => {
    if (b.body !== body) return;
    const d = sub(p, b.centre);
    const out = [0, 1, 2].map((k) => Math.max(Math.abs(dot(d, b.axes[k]!)) - b.half[k]!, 0)) as unknown as Vec3;
    const distance = norm(out);
    if (!best || distance < best.distance)
      best = { distance, name: b.name, gap: distance, item: () => ties.blockItem[i]! };
  });
  ties.tubes.forEach((tube, t) => {
    if (tube.body !== body) return;
    const foot = footOn(ties.lines[t]!, p);
    if (best && foot.distance >= best.distance) return;
    const gap = Math.max(foot.distance - ties.reach(t, foot.s, sub(p, foot.point)), 0);
    best = { distance: foot.distance, name: tube.name, gap, item: () => ties.mark(t, foot.s).id };
  });
  return best && { item: best.item(), name: best.name, gap: best.gap };
}

/** Ties one side of a joint: every member that lies as near as the nearest, or the block that holds the joint. */
export function tieHinge(ties: Ties, hinge: FrameHinge, side: 0 | 1, at: Vec3, lugs: Set<Mark>): Side | undefined {
  const body = hinge.bodies[side];
  const nearest = tiePoint(ties, body, at);
  if (!nearest) return undefined;
  if (nearest.gap > BRIDGE) ties.bridges.push({ a: hinge.name, b: nearest.name, gap: nearest.gap });
  const feet = ties.tubes.flatMap((tube, t) => (tube.body === body ? [{ t, foot: footOn(ties.lines[t]!, at) }] : []));
  const least = Math.min(...feet.map((f) => f.foot.distance));
  const inBlock = ties.blockItem.some((item) => ties.group(item) === ties.group(nearest.item));
  for (const { t, foot } of feet) {
    if (inBlock || foot.distance > least + ALIKE) continue;
    const { length } = ties.lines[t]!;
    const cut = Math.min(hinge.cutOut, 0.45 * length);
    const s = foot.s < cut ? 0 : foot.s > length - cut ? length : foot.s;
    const mark = ties.mark(t, s);
    if (s === 0) mark.after = Math.max(mark.after, cut);
    if (s === length) mark.before = Math.max(mark.before, cut);
    if ((hinge.kind === 'pivot' || hinge.kind === 'pin') && (mark.s === 0 || mark.s === length)) lugs.add(mark);
    ties.tie(mark.id, nearest.item);
  }
  return nearest;
}

/** Where a joint's point on its first body lies on the second, in the drawing of the ride posture: a post slides through its clamp. */
export function onSecond(hinge: FrameHinge, bodyT: Numbers): Vec3 {
  const [a, b] = hinge.bodies;
  const back = new Float64Array(12);
  invert(bodyT, 12 * b, back, 0);
  return posePoint(back, 0, posePoint(bodyT, a, hinge.at));
}

/** Head tube and steerer: tubes of the steerer joint's bodies that lie on its axis. */
export function headOf(ties: Ties, hinges: readonly FrameHinge[]): Head | undefined {
  const j = hinges.findIndex((h) => h.kind === 'steerer');
  const hinge = hinges[j];
  if (!hinge) return undefined;
  const off = (p: Vec3): number => norm(cross(sub(p, hinge.at), hinge.axis));
  const onAxis = (body: number): number =>
    ties.tubes.findIndex((tube, t) => {
      const { points, length } = ties.lines[t]!;
      return tube.body === body && length > HEAD_LENGTH && off(points[0]!) < COAXIAL && off(points.at(-1)!) < COAXIAL;
    });
  const head = onAxis(hinge.bodies[0]);
  const steerer = onAxis(hinge.bodies[1]);
  if (head < 0 || steerer < 0) return { hinge: j, bearings: [], bottom: undefined, top: undefined, crown: undefined };
  const height = (p: Vec3): number => dot(sub(p, hinge.at), hinge.axis);
  const ends = [0, ties.lines[head]!.length].sort(
    (a, b) => height(pointAt(ties.lines[head]!, a)) - height(pointAt(ties.lines[head]!, b)),
  );
  const line = ties.lines[steerer]!;
  const low = height(line.points[0]!) < height(line.points.at(-1)!) ? 0 : line.length;
  const bearings = ends.map((s) => {
    const at = pointAt(ties.lines[head]!, s);
    return { at, frame: ties.mark(head, s), fork: ties.mark(steerer, footOn(line, at).s) };
  });
  return { hinge: j, bearings, bottom: bearings[0]!.frame, top: bearings[1]!.frame, crown: ties.mark(steerer, low) };
}
export interface Head {
  readonly hinge: number;
  readonly bearings: readonly { readonly at: Vec3; readonly frame: Mark; readonly fork: Mark }[];
  readonly bottom: Mark | undefined;
  readonly top: Mark | undefined;
  readonly crown: Mark | undefined;
}
