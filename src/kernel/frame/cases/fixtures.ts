/**
 * What holds the structure in a test or on the road: supports and stiff springs that stand for rigs, rollers and hands.
 *
 * Units: mm, N, rad. `RIG` and `RIG_TURN` stand for rigid: a thousand times a stiff frame, and still far from losing digits in
 * the factorisation. Assumption: rigs do not give. Not here: elastic rigs, tyres as springs.
 */
import { cross, norm, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext } from '../places.ts';
import type { FrameJoint, JointLaw, Support } from '../structure.ts';
import { placeAt } from './frame-case.ts';

/** N/mm and N·mm/rad. */
export const RIG = 1e8;
export const RIG_TURN = 1e11;

const FREE: JointLaw = { closed: 0 };
const STIFF: JointLaw = { closed: RIG };
const STIFF_TURN: JointLaw = { closed: RIG_TURN };
/** Holds against the ground, lets go upwards. */
const PRESSES: JointLaw = { closed: RIG, open: 0, opens: 1 };
const WORLD: FrameJoint['axes'] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Holds components of a node: 0–2 translations, 3–5 rotations. */
export const hold = (node: number, ...components: readonly number[]): readonly Support[] =>
  components.map((component) => ({ node, component }));
export const clamp = (node: number): readonly Support[] => hold(node, 0, 1, 2, 3, 4, 5);
/** An axle in fixed bearings: free to turn about itself. */
export const axleHeld = (node: number): readonly Support[] => hold(node, 0, 1, 2, 3, 5);
/** An axle on a guided roller: may move fore and aft, turn about itself and lean. */
export const axleRolling = (node: number): readonly Support[] => hold(node, 1, 2, 5);

/** The unit normal of the steering axis in the wheel's plane, pointing ahead. */
export const aheadOfAxis = (axis: Vec3): Vec3 => unit(cross([0, 1, 0], axis));

/**
 * The stiff link under the rear axle of the pedalling test: free about the axle above, a ball joint below, `length` long.
 * To first order it holds the axle's height and, with the axle's roll, the sideways place of its foot; fore and aft it swings.
 */
export function rigLink(context: FrameContext, length: number): FrameJoint {
  const { rearAxle } = context.places;
  const foot = sub(placeAt(context, 'rearAxle'), [0, 0, length]);
  return {
    name: 'rig link',
    role: 'fixture',
    from: -1,
    to: rearAxle,
    at: foot,
    axes: WORLD,
    laws: [FREE, STIFF, STIFF, FREE, FREE, FREE],
  };
}

/** Keeps the bar from turning: a stiff spring about the steering axis between head tube and fork crown. */
export function steeringLock(context: FrameContext): FrameJoint {
  const { headBottom, crown } = context.places;
  const ahead = aheadOfAxis(context.steerAxis);
  return {
    name: 'steering lock',
    role: 'fixture',
    from: headBottom,
    to: crown,
    at: placeAt(context, 'crown'),
    axes: [ahead, cross(context.steerAxis, ahead), context.steerAxis],
    laws: [FREE, FREE, FREE, FREE, FREE, STIFF_TURN],
  };
}

/** The lock where the bicycle has a steerer to lock: in cases that hold it elsewhere and only want the fork not to swing. */
export const steeringLockIfAny = (context: FrameContext): readonly FrameJoint[] =>
  context.places.headBottom >= 0 && context.places.crown >= 0 ? [steeringLock(context)] : [];

/**
 * The points on which a folded bicycle stands: heights held at all; the first held in the plane, and the point farthest
 * from it kept from swinging round it. Feet press only: where one would have to pull it lifts (one-sided law), and where
 * too few are left the package tips. The linear solution of the same group holds it down.
 */
export function standOn(context: FrameContext): readonly FrameJoint[] {
  const { stands } = context;
  const first = stands[0]!.at;
  const level = (at: Vec3): Vec3 => [at[0] - first[0], at[1] - first[1], 0];
  const farthest = stands.reduce((far, { at }, i) => (norm(level(at)) > norm(level(stands[far]!.at)) ? i : far), 0);
  const along = unit(level(stands[farthest]!.at));
  const across = cross([0, 0, 1], along);
  return stands.map(({ node, at }, i) => ({
    name: `foot ${i + 1}`,
    role: 'fixture' as const,
    from: -1,
    to: node,
    at,
    axes: [along, across, [0, 0, 1]] as const,
    laws: [i === 0 ? STIFF : FREE, i === 0 || i === farthest ? STIFF : FREE, PRESSES, FREE, FREE, FREE] as const,
  }));
}
