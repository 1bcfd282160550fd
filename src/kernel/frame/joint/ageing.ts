/**
 * Ageing of a lock: preload, play and opening margin after n folds.
 *
 * Two places wear, both in proportion to force and sliding way (Archard 1953): the seat, where the latch slides under its
 * preload at each closing, and the bearing (pin, bush, rail), which turns or slides under the hand and the weight of the
 * moving half at each fold.
 *   seat     depth h grows by w·F·s/A per closing; the stack relaxes by it, dF/dn = −k w s F/A, so F = F₁ exp(−n k w s/A)
 *   settling the first closings flatten surfaces by z: F₁ = F₀ − k z
 *   bearing  clearance grows by w·(R·s_b + W)/(d·l) per fold (projected bearing area d·l), where W is the friction work of
 *            riding between two folds: load cycles × force × micro-slip. In a pin it is mostly the greater part
 * Assumes the mechanism is not readjusted; a lock with an adjuster can be set back to its first preload, and then only its
 * play grows. One contact area each, evenly pressed.
 * Sources: Archard, J. F. 1953, J. Appl. Phys. 24:981–988 (wear law); embedding of clamped faces as in VDI 2230 part 1.
 * All coefficients are defaults, from memory: they rank principles and tell which one to test, they predict no life.
 * Units: mm, N, N·mm, rad; specific wear in mm³/(N·m), as tables give it. Not here: corrosion, dirt,
 * plastic bruising, fatigue.
 */
import { openingMoment } from './mechanism.ts';

export interface Wear {
  /** Specific wear of the seat and of the bearing, mm³/(N·m). */
  readonly seatWear: number;
  readonly bearingWear: number;
  /** Sliding way of the seat at one closing, mm, and its contact area, mm². */
  readonly seatSlide: number;
  readonly seatArea: number;
  /** Sliding way in the bearing at one fold (there and back), mm; its force, N; its projected area, mm². */
  readonly bearingSlide: number;
  readonly bearingForce: number;
  readonly bearingArea: number;
  /** Friction work in the bearing by riding between two folds, N·m. */
  readonly rideWork: number;
  /** What settles in the first closings, mm. */
  readonly settling: number;
}
export interface LockWhenNew {
  /** Preload as set, N; stack stiffness, N/mm. */
  readonly preload: number;
  readonly stack: number;
  /** Clearance of the bearing as a length, mm, and the span over which it shows as an angle, mm. */
  readonly play: number;
  readonly span: number;
  /** Arm at which the preload holds the face shut, mm; moment that service asks of it, N·mm (NaN: unknown). */
  readonly arm: number;
  readonly serviceMoment: number;
}
export interface LockAge {
  readonly folds: number;
  readonly preload: number;
  /** Share of the first preload that is left. */
  readonly preloadLeft: number;
  /** Clearance, mm, and the free angle that it gives, rad (clearance over span: all of it, from stop to stop). */
  readonly play: number;
  readonly freeAngle: number;
  readonly seatDepth: number;
  readonly opensAt: number;
  /** Opening moment over service moment; below 1 the face opens in service. NaN where service is unknown. */
  readonly margin: number;
}

/** When a lock is asked about: new, after some years, at the end of a hard life. */
export const FOLDS = [0, 5000, 20000] as const;
/** mm³/(N·m) → mm³/(N·mm). */
const PER_MM = 1e-3;

/** Free angle of a clearance over a base: c/s from stop to stop, small angles, rad. */
export const freeAngle = (clearance: number, span: number): number => clearance / span;

/**
 * The lock after each number of folds.
 * @throws RangeError for negative or missing wear data, or a contact area or stack that is not positive.
 */
export function ageLock(lock: LockWhenNew, wear: Wear, folds: readonly number[] = FOLDS): readonly LockAge[] {
  for (const [key, value] of Object.entries(wear))
    if (!(value >= 0)) throw new RangeError(`${key} must be 0 or more, not ${value}`);
  for (const [key, value] of Object.entries({
    seatArea: wear.seatArea,
    bearingArea: wear.bearingArea,
    stack: lock.stack,
    span: lock.span,
  }))
    if (!(value > 0)) throw new RangeError(`${key} must be positive, not ${value}`);
  const perClosing = (lock.stack * wear.seatWear * PER_MM * wear.seatSlide) / wear.seatArea;
  const perFold =
    (wear.bearingWear * (PER_MM * wear.bearingForce * wear.bearingSlide + wear.rideWork)) / wear.bearingArea;
  const settled = Math.max(lock.preload - lock.stack * wear.settling, 0);
  return folds.map((n) => {
    if (!(n >= 0)) throw new RangeError(`folds must be 0 or more, not ${n}`);
    const preload = n === 0 ? lock.preload : settled * Math.exp(-n * perClosing);
    const play = lock.play + n * perFold;
    const opensAt = openingMoment(preload, lock.arm);
    return {
      folds: n,
      preload,
      preloadLeft: lock.preload > 0 ? preload / lock.preload : Number.NaN,
      play,
      freeAngle: freeAngle(play, lock.span),
      seatDepth: (lock.preload - preload) / lock.stack,
      opensAt,
      margin: opensAt / lock.serviceMoment,
    };
  });
}
