/**
 * Which shapes must keep clear of a tyre on its own body: the fold's pairs compare different bodies only, yet a stay can rub.
 *
 * Left out: brakes and the chain, which work at the wheel; mudguards, whose flat boxes contain an arc that is made 12 mm off the
 * tyre; and whatever reaches the axle within the hub (the hub itself, an
 * axle, a dropout drawn to the middle).
 */
import { norm, sub, type Vec3 } from '#kernel';
import type { ResolvedCandidate } from '#project';

const AT_THE_WHEEL = new Set(['wheel', 'hub_gear', 'brake', 'chain', 'mudguard']);
/** Distance from the middle of the axle within which a shape belongs to the hub, m: a hub shell and its flanges. */
const HUB_REACH = 0.03;

/** Wheel disc and shape of the same body, lower index first, two by two; at the file's dimensions. */
export function tyrePairs(candidate: ResolvedCandidate): Int32Array {
  const { model } = candidate;
  const { top } = model;
  const s = model.newState();
  model.fill(model.x, s);
  const at = (a: Float64Array, i: number): Vec3 => [a[i]!, a[i + 1]!, a[i + 2]!];
  /** Distance of a point from shape `i`, for boxes and discs from their middle. */
  const distance = (p: Vec3, i: number): number => {
    if (i >= top.nCapsule) {
      const disc = i - top.nCapsule;
      const centre = disc < top.nDisc ? at(s.disc, 8 * disc) : at(s.box, 15 * (disc - top.nDisc));
      return norm(sub(p, centre));
    }
    const [a, b, r] = [at(s.capsule, 7 * i), at(s.capsule, 7 * i + 3), s.capsule[7 * i + 6]!];
    const [along, toward] = [sub(b, a), sub(p, a)];
    const length2 = along[0] * along[0] + along[1] * along[1] + along[2] * along[2];
    const t = length2 > 0 ? (along[0] * toward[0] + along[1] * toward[1] + along[2] * toward[2]) / length2 : 0;
    const k = Math.min(1, Math.max(0, t));
    return norm(sub(toward, [k * along[0], k * along[1], k * along[2]])) - r;
  };
  const spared = new Set(candidate.parts.filter((p) => AT_THE_WHEEL.has(p.kind)).flatMap((p) => p.shapes));
  const out: number[] = [];
  for (const wheel of [model.wheels.front, model.wheels.rear]) {
    const hub = at(s.station, 3 * wheel.station);
    top.shapeBody.forEach((body, shape) => {
      if (body !== wheel.body || shape === wheel.shape || spared.has(shape)) return;
      if (distance(hub, shape) > HUB_REACH) out.push(Math.min(shape, wheel.shape), Math.max(shape, wheel.shape));
    });
  }
  return Int32Array.from(out);
}
