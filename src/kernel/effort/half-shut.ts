/**
 * A lock left half-shut: can its handle stay there, does it look shut, and what does it hold with then.
 *
 * From the mechanism's own curves (frame/joint/mechanism): with the handle φ before dead centre the stack clamps with
 * F(φ) = k (s − r(φ)), friction carries the handle where μ-arm > dr/dφ (φ up to `sticks`), and opening takes
 * F (μ-arm − dr/dφ)/L at the lever's tip. It looks shut while the tip stands off its closed place by less than `LOOKS_SHUT`.
 *   springs_open   friction does not hold it anywhere there: it is thrown open, and seen
 *   seen           before it stays it stands off so far that it is seen
 *   holds          the worst of those places still takes half the force to open, and clamps with four fifths: as good as shut
 *   weak           it looks shut and lets go at less
 * A screw can stop at any force and look the same; a wedge at any depth that friction holds and whose handle stands within
 * `LOOKS_SHUT`; a plunger's pin may stand on the rim of its hole, its knob out by the stroke.
 * Thresholds: default, from memory. Source: the mechanism's curves, theory; the kinds of mishap, common practice, no source.
 * Units: mm, N, rad. Not here: what a second catch does about it (the shelf says), whether the frame needs the lock.
 */
import { closeLatch, handleTravel, type LatchFigures, type LatchMechanism } from '../frame/joint/mechanism.ts';

export type HalfShutState = 'springs_open' | 'seen' | 'holds' | 'weak';
export interface HalfShut {
  readonly state: HalfShutState;
  /** Way of the lever's tip (mm) from shut to the place meant; NaN where it tells nothing. */
  readonly standsOff: number;
  /** Force at the tip that opens it there, and from shut, N. */
  readonly opensAt: number;
  readonly shutOpensAt: number;
  /** Share of the preload with which it clamps there; 0 where that can be anything. */
  readonly clamps: number;
}

/** Way of a tip from its closed place that a glance does not see, mm: a finger's thickness. */
export const LOOKS_SHUT = 15;
/** Share of the shut lock's opening force, and of its preload, that is as good as shut. */
const OPENS_LIKE = 0.5;
const CLAMPS_LIKE = 0.8;

/** The worst place in which a handle could be left and look shut. @throws RangeError as `closeLatch`. */
export function halfShut(m: LatchMechanism, preload: number, figures: LatchFigures = closeLatch(m, preload)): HalfShut {
  const shutOpensAt = figures.reopenForce;
  if (m.kind === 'toggle' || m.kind === 'cam') {
    const looks = 2 * Math.asin(Math.min(1, LOOKS_SHUT / (2 * m.lever))) - m.past;
    const stays = figures.sticks;
    const swing = figures.swing - m.past;
    const at = (phi: number): HalfShut => {
      const t = handleTravel(m, phi);
      const force = m.stack * Math.max(figures.draw + handleTravel(m, m.past).travel - t.travel, 0);
      const opensAt = Math.max(0, (force * (t.friction - t.slope)) / m.lever);
      return {
        state: opensAt >= OPENS_LIKE * shutOpensAt && force >= CLAMPS_LIKE * preload ? 'holds' : 'weak',
        standsOff: 2 * m.lever * Math.sin((phi + m.past) / 2),
        opensAt,
        shutOpensAt,
        clamps: preload > 0 ? force / preload : 0,
      };
    };
    if (!(looks > 0)) return { ...at(0), state: 'seen' };
    // at dead centre the stack does not push the handle; a hair beyond it friction must hold
    if (!(stays > 0)) return { ...at(0), state: 'springs_open' };
    return at(Math.min(looks, stays, swing));
  }
  if (m.kind === 'screw') return { state: 'weak', standsOff: Number.NaN, opensAt: 0, shutOpensAt, clamps: 0 };
  if (m.kind === 'wedge') {
    const half = (figures.draw / (4 * Math.tan(m.angle))) * m.ratio;
    const state: HalfShutState = !figures.heldByFriction ? 'springs_open' : half <= LOOKS_SHUT ? 'weak' : 'seen';
    return { state, standsOff: half, opensAt: shutOpensAt / 2, shutOpensAt, clamps: 0.5 };
  }
  return {
    state: m.stroke <= LOOKS_SHUT ? 'weak' : 'seen',
    standsOff: m.stroke,
    opensAt: 0,
    shutOpensAt,
    clamps: 0,
  };
}

/** Way of the lever's tip from shut to open, mm: what shows that a lock was forgotten. NaN for a screw, whose lever tells nothing. */
export function openStandsOff(m: LatchMechanism, figures: LatchFigures): number {
  if (m.kind === 'toggle' || m.kind === 'cam')
    return 2 * m.lever * Math.sin(Math.min(Math.max(figures.swing, OPEN_SWING), Math.PI) / 2);
  if (m.kind === 'screw') return Number.NaN;
  if (m.kind === 'wedge') return DOG_CLEARS * m.ratio;
  return m.stroke;
}
/** An open handle stands at a right angle to where it is shut, or farther (default, from memory). */
const OPEN_SWING = Math.PI / 2;
/** A dog is drawn at least so far to let its seat go, mm (default, from memory). */
const DOG_CLEARS = 8;
