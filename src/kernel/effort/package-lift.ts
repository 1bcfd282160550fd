/**
 * Lifting the folded bicycle with two hands to a height: the lifting equation for a package that is held where it is easiest.
 *
 * Held with its slim side to the body, the hands are H = 20 cm + W/2 ahead of the ankles, 25 cm + W/2 below V = 25 cm (NIOSH
 * 94-110, 1.3), and `SET_DOWN` farther where it is set down over an edge. One hold for the whole lift, between
 * `LOWEST_HOLD` and the top of the package; the hold that gives the higher limit is taken (people find it). Coupling fair: tubes
 * to hold, not handles made for two hands (judgement). Straight ahead, at most once in five minutes, less than an hour a day.
 * Not here: turning round in a doorway (AM; 30° take 10 %), a gap to step over, somebody in the way, a strap.
 */
import { type LiftLimits, liftLimits, shareLifting } from './lifting.ts';

const BODY_GAP = 0.2;
const LOW_GAP = 0.25;
const LOW = 0.25;
/** Reaching over an edge or into a rack, m; judgement. */
const SET_DOWN = 0.1;
const LOWEST_HOLD = 0.1;
const HOLD_STEP = 0.05;

export interface PackageLift {
  /** Height of the hold over the package's foot, m. */
  readonly hold: number;
  /** kg. */
  readonly mass: number;
  readonly limits: LiftLimits;
  /** Load over limit; Infinity where the equation allows none. */
  readonly index: number;
  readonly able: number;
}

/** `width`: slim side, `tall`: height as it stands, `rise`: height of the place over the floor that it stands on; m. */
export function packageLift(mass: number, width: number, tall: number, rise: number, women: number): PackageLift {
  if (!(mass > 0 && width > 0 && tall > 0 && rise >= 0))
    throw new RangeError('mass and sizes of a package are positive, and it is lifted upwards');
  const reach = (v: number): number => (v < LOW ? LOW_GAP : BODY_GAP) + width / 2;
  const at = (hold: number): LiftLimits =>
    liftLimits({
      origin: { reach: reach(hold), height: hold, turn: 0 },
      destination: { reach: reach(hold + rise) + SET_DOWN, height: hold + rise, turn: 0 },
      coupling: 'fair',
      perMinute: 0.2,
      hours: 1,
    });
  const lowest = Math.min(LOWEST_HOLD, tall);
  let hold = lowest;
  let limits = at(hold);
  for (let h = lowest + HOLD_STEP; h <= tall + 1e-9; h += HOLD_STEP) {
    const other = at(h);
    if (other.limit > limits.limit) [hold, limits] = [h, other];
  }
  const index = limits.limit > 0 ? mass / limits.limit : Infinity;
  return { hold, mass, limits, index, able: Number.isFinite(index) ? shareLifting(index, women) : 0 };
}
