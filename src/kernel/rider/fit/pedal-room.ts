/**
 * Room round the pedals that standards ask for: pedal to front wheel over the steering, pedal to the ground in a lean.
 *
 * Toe: from the pedal's centre, crank forward, straight ahead to the arc of tyre or guard, at any steering angle, as seen from
 * above: the rearmost point, at whatever height, that the turned wheel has in the pedal's plane y. 16 CFR 1512.17(d) asks for 89 mm
 * without foot retention; ISO 4210-2 for 100 mm on city bicycles (from memory).
 * Lean: tan λ = (h − L − e)/q with the pedal at its lowest, e below its axle, its edge q from the mid-plane; the tyre's own
 * width, which shifts the ground line by about a degree, is left out (on the safe side). 16 CFR 1512.17(c): 25°.
 * Units: m, rad.
 */
import { add, cross, dot, norm, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';

export interface TurningWheel {
  readonly centre: Vec3;
  /** With tyre or guard. */
  readonly radius: number;
  readonly halfWidth: number;
  /** A point of the steering axis and its direction. */
  readonly point: Vec3;
  readonly axis: Vec3;
}

const turned = (v: Vec3, k: Vec3, angle: number): Vec3 => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const across = cross(k, v);
  const d = dot(k, v) * (1 - c);
  return [
    v[0] * c + across[0] * s + k[0] * d,
    v[1] * c + across[1] * s + k[1] * d,
    v[2] * c + across[2] * s + k[2] * d,
  ];
};

/** Centre and normal of the wheel turned by `angle`. */
function placed(wheel: TurningWheel, angle: number): { readonly centre: Vec3; readonly n: Vec3 } {
  const k = unit(wheel.axis);
  return { centre: add(wheel.point, turned(sub(wheel.centre, wheel.point), k, angle)), n: turned([0, 1, 0], k, angle) };
}

/** Way along x from `pedal` to the wheel turned by `angle` as seen from above: its rearmost point in the pedal's plane y; Infinity: none. */
export function aheadFromAbove(pedal: Vec3, wheel: TurningWheel, angle: number): number {
  const { centre, n } = placed(wheel, angle);
  // in the plane of a face, the line y = pedal's y lies `off` from the middle and is cut to a chord by the rim
  const steep = Math.sqrt(1 - n[1] * n[1]);
  if (steep < 1e-9)
    return Math.abs(pedal[1] - centre[1]) <= wheel.halfWidth
      ? centre[0] - wheel.radius - pedal[0]
      : Number.POSITIVE_INFINITY;
  const towards = scale(sub([0, 1, 0], scale(n, n[1])), 1 / steep);
  const along = cross(n, towards);
  let least = Number.POSITIVE_INFINITY;
  for (const face of [-wheel.halfWidth, wheel.halfWidth]) {
    const middle = add(centre, scale(n, face));
    const off = (pedal[1] - middle[1]) / steep;
    const half2 = wheel.radius * wheel.radius - off * off;
    if (half2 < 0) continue;
    const x = middle[0] + off * towards[0] - Math.sqrt(half2) * Math.abs(along[0]);
    if (x < least) least = x;
  }
  return least - pedal[0];
}

/** Way from `pedal` straight ahead (along x, at its own height) to the wheel turned by `angle`; Infinity when the line misses it. */
export function aheadToWheel(pedal: Vec3, wheel: TurningWheel, angle: number): number {
  const { centre, n } = placed(wheel, angle);
  const p = sub(pedal, centre);
  // p + t·x inside |along| ≤ w and ρ² ≤ R²: two intervals of t
  const a0 = dot(p, n);
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  if (Math.abs(n[0]) > 1e-12) {
    const [t0, t1] = [(-wheel.halfWidth - a0) / n[0], (wheel.halfWidth - a0) / n[0]];
    [low, high] = [Math.min(t0, t1), Math.max(t0, t1)];
  } else if (Math.abs(a0) > wheel.halfWidth) return Number.POSITIVE_INFINITY;
  const A = 1 - n[0] * n[0];
  const B = p[0] - a0 * n[0];
  const C = dot(p, p) - a0 * a0 - wheel.radius * wheel.radius;
  const root = B * B - A * C;
  if (root < 0) return Number.POSITIVE_INFINITY;
  low = Math.max(low, (-B - Math.sqrt(root)) / A);
  high = Math.min(high, (-B + Math.sqrt(root)) / A);
  return low <= high ? low : Number.POSITIVE_INFINITY;
}

export interface PedalRoom {
  /** Least way ahead, m. */
  readonly gap: number;
  /** Steering angle at which it is least, rad. */
  readonly angle: number;
}

const STEP = (0.5 * Math.PI) / 180;

/** Least room of a pedal centre (crank forward) over steering angles of up to `range` to both sides. */
export function pedalToWheel(pedal: Vec3, wheel: TurningWheel, range: number): PedalRoom {
  if (!(norm(wheel.axis) > 0)) throw new RangeError('the steering axis has no direction');
  const steps = Math.max(1, Math.ceil(range / STEP));
  let best: PedalRoom = { gap: Number.POSITIVE_INFINITY, angle: 0 };
  for (let i = -steps; i <= steps; i++) {
    const angle = (range * i) / steps;
    const gap = aheadFromAbove(pedal, wheel, angle);
    if (gap < best.gap) best = { gap, angle };
  }
  // the least lies at an edge of the tyre: halve around the best sample
  for (let h = range / steps / 2; h > 1e-7; h /= 2)
    for (const angle of [best.angle - h, best.angle + h]) {
      if (Math.abs(angle) > range) continue;
      const gap = aheadFromAbove(pedal, wheel, angle);
      if (gap < best.gap) best = { gap, angle };
    }
  return best;
}

/**
 * Lean (rad) at which the pedal touches: bottom bracket height, crank length, pedal's underside below its axle, its outer edge
 * from the mid-plane. Negative when it lies below the ground. @throws RangeError for an edge on the mid-plane.
 */
export function pedalLean(bracket: number, crank: number, below: number, edge: number): number {
  if (!(edge > 0)) throw new RangeError(`the pedal's edge must be off the mid-plane, got ${edge}`);
  return Math.atan((bracket - crank - below) / edge);
}
