/**
 * Force to roll the folded bicycle along, and what the hand carries of it meanwhile.
 *
 * A wheel of radius r under the load N resists with N·b/r, b the lever of rolling friction: 1–2.5 mm on hard floors, which
 * gives 0.02–0.05 on castors of 50 mm radius and 0.005–0.012 on tyres of 200 mm (default, from memory). Wheels in line carry
 * everything. On wheels side by side the package is a trolley: the hand tips it until its centre of mass stands over the
 * contacts, where that is free of the floor; else it holds m·g·d_c/d_h, d_c and d_h being the level distances of centre of mass
 * and handle from the line through the contacts.
 * Method of judging: ISO 11228-2 (its tables are not reproduced here); limit of a standing pull EN 1005-3, see `strength.ts`.
 * Units SI. Not here: carpets, gaps, kerbs, slopes, swivelling castors, a bearing that drags.
 */
import type { Rolling } from '../envelope/roll.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { add, dot, scale, sub, unit, type Vec3 } from '../math/rigid.ts';

/** Lever of rolling friction, m: least, usual, most. */
export const ROLLING_LEVER = [0.001, 0.0015, 0.0025] as const;

export interface RollForce {
  /** N: least, usual, most. */
  readonly force: readonly [number, number, number];
  /** Level force of the usual lever over the weight on the wheels. */
  readonly coefficient: number;
  /** Upward force of the hand, N; negative: it has to hold the package down. NaN without a handle where one is needed. */
  readonly hand: number;
  /** Part of the weight that the hand carries. */
  readonly carried: number;
  readonly arrangement: Rolling['arrangement'];
  /** Height of the handle over the floor meanwhile, m; NaN without. */
  readonly handleHeight: number;
}

/** Level distance of the centre of mass from the contacts that counts as balanced, m. */
const BALANCED = 0.002;

/**
 * Upward direction in which the centre of mass stands over both wheels (their contacts lie straight below their centres),
 * turned about the axles from where it rolls.
 */
export function balancedUp(
  com: Vec3,
  centres: readonly [Vec3, Vec3],
  { travel, up }: Pick<Rolling, 'travel' | 'up'>,
): Vec3 {
  const r = sub(com, middleOf(centres));
  return unit(add(scale(up, dot(r, up)), scale(travel, dot(r, travel))));
}
const middleOf = ([a, b]: readonly [Vec3, Vec3]): Vec3 => scale(add(a, b), 0.5);

/** `radii`: of the wheels that it rolls on, m; the smaller counts. @throws RangeError for a wheel without radius. */
export function rollForce(
  mass: number,
  com: Vec3,
  handle: Vec3 | undefined,
  rolling: Pick<Rolling, 'arrangement' | 'contacts' | 'travel' | 'handleHeight'>,
  radii: readonly number[],
): RollForce {
  const radius = Math.min(...radii);
  if (!(radius > 0)) throw new RangeError(`a wheel of radius ${radius} does not roll`);
  const weight = mass * STANDARD_GRAVITY;
  const { arrangement, contacts, travel } = rolling;
  const middle = middleOf(contacts);
  const ahead = (p: Vec3): number => dot(sub(p, middle), travel);
  const lever = ahead(com);
  const free = arrangement === 'in line' || Math.abs(lever) < BALANCED;
  const hand = free ? 0 : handle ? (weight * lever) / ahead(handle) : Number.NaN;
  const onWheels = weight - (Number.isFinite(hand) ? hand : 0);
  const [least, usual, most] = ROLLING_LEVER.map((b) => (onWheels * b) / radius) as [number, number, number];
  return {
    force: [least, usual, most],
    coefficient: ROLLING_LEVER[1] / radius,
    hand,
    carried: hand / weight,
    arrangement,
    handleHeight: rolling.handleHeight,
  };
}
