/**
 * What is left under a package that hangs from one hand: over level ground and over the steps of a staircase.
 *
 * The package hangs with its centre of mass under the handle, slim side to the leg (`envelope/carry`), from a straight arm whose grip is
 * `grip` over the tread underfoot. The line of the nosings rises by step over tread and stands half a step over the tread
 * in the middle of which the foot is; the least height of the package over it counts, forward or backward along the
 * way, whichever hangs better. Tread after 2·step + tread = 0.63 m (common practice of stair building, no source).
 * Negative: it knocks against the steps unless the arm is bent or the shoulder drawn up.
 * Units m. Not here: swinging, the hip in the way of a wide package.
 */
import type { Carrying } from '../envelope/carry.ts';
import { type Solid, solidReach } from '../envelope/solid.ts';
import { add, cross, dot, scale, type Vec3 } from '../math/rigid.ts';

export const STRIDE = 0.63;
/** Steps for which the rule gives no tread are no steps. */
const STEEPEST = 0.25;

export interface CarryEdge {
  /** Height of the lowest point over level ground, m. */
  readonly level: number;
  /** Least height over the line of the nosings. */
  readonly stairs: number;
  /** How far the handle is over the lowest point, hanging. */
  readonly down: number;
}
/** @throws RangeError for a step outside 0–0.25 m. */
export function carryEdge(solid: Solid, hanging: Carrying, handle: Vec3, grip: number, step: number): CarryEdge {
  if (!(step > 0 && step <= STEEPEST)) throw new RangeError(`a step is 0 to 0.25 m high, got ${step}`);
  const { hangingUp: up, legSide, reachDown: down } = hanging;
  const slope = step / (STRIDE - 2 * step);
  const travel = cross(up, legSide);
  /** How far the package reaches below a line through the handle that rises along `ahead`. */
  const below = (ahead: Vec3): number => {
    const d = add(scale(ahead, slope), scale(up, -1));
    return solidReach(solid, d) - dot(handle, d);
  };
  return {
    level: grip - down,
    stairs: grip - Math.min(below(travel), below(scale(travel, -1))) - step / 2,
    down,
  };
}
