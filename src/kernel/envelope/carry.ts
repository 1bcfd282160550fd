/**
 * Carrying in one hand: how far the centre of mass is from the handle's plumb line, how the package hangs, how wide it is
 * beside the leg, how far it reaches down.
 *
 * `offset` is measured in the attitude meant (unit `up`): the horizontal distance between handle and centre of mass. Left to
 * itself the package turns until the centre of mass hangs below the handle, by `tilt` = atan(offset / drop of the centre of
 * mass); `halfWidth` and `reachDown` are taken in that attitude. The half width is the reach from the plumb line towards
 * the leg with the slimmest side of the package chosen (branch and bound over the yaw).
 * Targets (judgement, no source): offset ≤ 20 mm, half width ≤ 150 mm, reach below the handle ≤ 630 mm for short riders.
 * Source: statics of a hanging body.
 * Not here: the hand's own moment, bags, gait.
 */
import { add, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { leastProved, widthFloor } from './bound-search.ts';
import { SPACE_TOLERANCE } from './opening.ts';
import { type Solid, solidReach, solidSupport, squareTo } from './solid.ts';

export interface Carrying {
  readonly offset: number;
  /** rad; over 90° when the handle is below the centre of mass. */
  readonly tilt: number;
  readonly halfWidth: number;
  /** Package direction that faces the leg. */
  readonly legSide: Vec3;
  readonly reachDown: number;
  /** Upward direction in which it hangs. */
  readonly hangingUp: Vec3;
}

/** @throws RangeError when handle and centre of mass coincide: the package then hangs anyhow. */
export function carrying(solid: Solid, com: Vec3, handle: Vec3, up: Vec3): Carrying {
  const r = sub(handle, com);
  const rise = dot(r, up);
  const offset = norm(sub(r, scale(up, rise)));
  const length = norm(r);
  if (!(length > 0)) throw new RangeError('the handle is at the centre of mass');
  const hangingUp = scale(r, 1 / length);
  const [e1, e2] = squareTo(hangingUp);
  const towards = (t: number): Vec3 => add(scale(e1, Math.cos(t)), scale(e2, Math.sin(t)));
  const chord = (t: number): readonly [number, number] => {
    const x = sub(solidSupport(solid, towards(t)), handle);
    return [dot(x, e1), dot(x, e2)];
  };
  const slim = leastProved(
    0,
    2 * Math.PI,
    (t) => {
      const [x, y] = chord(t);
      return x * Math.cos(t) + y * Math.sin(t);
    },
    (a, b) => widthFloor(...chord(a), ...chord(b), a, b),
    SPACE_TOLERANCE,
    16,
  );
  return {
    offset,
    tilt: Math.atan2(offset, rise),
    halfWidth: slim.value,
    legSide: towards(slim.at),
    reachDown: dot(handle, hangingUp) + solidReach(solid, scale(hangingUp, -1)),
    hangingUp,
  };
}
