/**
 * Where the middle joint of a two-link limb lies, by the law of cosines.
 *
 * Source: theory. Units: any consistent set.
 */
import { add, cross, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';

export interface TwoLink {
  /** The middle joint: knee or elbow. */
  readonly middle: Vec3;
  /** Angle by which the limb departs from straight, rad; 0 when it is stretched. */
  readonly flexion: number;
  /** How much too far (positive) or too near (negative) the end is; 0 when the limb reaches it. */
  readonly miss: number;
}

/** Flexion of a limb with links a and b whose ends are d apart: π − acos((a² + b² − d²)/(2ab)). Clamped out of reach. */
export const flexionAt = (a: number, b: number, d: number): number =>
  Math.PI - Math.acos(Math.max(-1, Math.min(1, (a * a + b * b - d * d) / (2 * a * b))));

/**
 * The middle joint of a limb from `from` to `to` with links a (at `from`) and b, bent towards the direction `bend`.
 * Out of reach, the links keep their proportion on the straight line and `miss` says by how much.
 */
export function twoLink(from: Vec3, to: Vec3, a: number, b: number, bend: Vec3): TwoLink {
  const span = sub(to, from);
  const d = norm(span);
  const u = scale(span, 1 / d);
  const miss = d > a + b ? d - (a + b) : d < Math.abs(a - b) ? d - Math.abs(a - b) : 0;
  const flexion = flexionAt(a, b, d);
  if (miss > 0) return { middle: add(from, scale(span, a / (a + b))), flexion, miss };
  const p = (a * a + d * d - b * b) / (2 * d);
  const h = Math.sqrt(Math.max(0, a * a - p * p));
  // Part of `bend` across the limb; a limb that points along `bend` bends in the plane of x or z instead.
  let across = sub(bend, scale(u, dot(bend, u)));
  if (!(norm(across) > 1e-9)) across = cross(u, [0, 1, 0]);
  return { middle: add(add(from, scale(u, p)), scale(across, h / norm(across))), flexion, miss };
}
