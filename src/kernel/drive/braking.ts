/**
 * Bounds of the stopping distance: what the road and the wheelbase allow at most, and what a brake that just passes its test gives.
 *
 * Forces along a descent of angle θ, both wheels, adhesion μ, centre of mass x ahead of the rear contact, h high, wheelbase w:
 *   both wheels     a_b ≤ μ g cos θ, and the rear wheel lifts at a_b = g cos θ (w − x)/h
 *   front alone     a_b = μ g cos θ x/(w − μ h), or the lift
 *   rear alone      a_b = μ g cos θ (w − x)/(w + μ h)
 * a_b is what the brakes give; the bicycle slows by a = a_b − g sin θ. Of moments about the contacts, as in steer/load.ts, whose
 * `pitchOver` gives the lift.
 * Way: s = v t_r + way while the brake builds up (a rises evenly within t_b) + v′²/2a.
 * The test's brake: the mean deceleration v₀²/2s₀ that the standard's distance asks for, force unchanged on the slope.
 * Adhesion, reaction and build-up: defaults, from memory. A bound, not a prediction: riders brake worse than the bound, and
 * brakes better than the test.
 * SI. Not here: wheels that lock, fading, rims that are wet for the first turns, what the rider's body does, motors that brake.
 */
import { slopeOf } from './road-power.ts';

/** Tyre on road, from memory: dry asphalt, and wet setts (smooth wet stone is at the lower end). */
export const ADHESION = { dry: 0.8, wet: 0.4 } as const;
export const ADHESION_RANGE = { dry: [0.6, 0.9], wet: [0.25, 0.5] } as const;
/** From seeing to the first force of the brake, and from there to its full force, s; from memory. Rim brakes need longer when wet. */
export const REACTION = 1.0;
export const BUILD_UP = { dry: 0.3, wet: 0.6 } as const;

/** What a standard asks of the brakes of a bicycle with hand brakes on both wheels. */
export interface BrakeTest {
  readonly id: string;
  readonly standard: string;
  readonly road: 'dry' | 'wet';
  readonly speed: number;
  readonly distance: number;
  readonly standing: 'published' | 'memory';
}
const KMH = 1 / 3.6;
export const BRAKE_TESTS: readonly BrakeTest[] = [
  // The distance was seen in a copy of the regulation; the test speed is from memory.
  {
    id: 'us_dry',
    standard: '16 CFR 1512.5 and 1512.18(d), speed from memory',
    road: 'dry',
    speed: 24 * KMH,
    distance: 4.57,
    standing: 'published',
  },
  {
    id: 'iso_dry',
    standard: 'ISO 4210-2, city and trekking, dry, both brakes',
    road: 'dry',
    speed: 25 * KMH,
    distance: 7,
    standing: 'memory',
  },
  {
    id: 'iso_wet',
    standard: 'ISO 4210-2, city and trekking, wet, both brakes',
    road: 'wet',
    speed: 16 * KMH,
    distance: 5,
    standing: 'memory',
  },
];

/** Mean deceleration that a test asks for, m/s². */
export const testDeceleration = (t: BrakeTest): number => (t.speed * t.speed) / (2 * t.distance);

export interface BrakePlace {
  /** m, and the deceleration (m/s²) at which the rear wheel lifts on this slope, of the bicycle itself. */
  readonly wheelbase: number;
  readonly ahead: number;
  readonly height: number;
  readonly lift: number;
  readonly gravity: number;
}
export type BrakeWheels = 'both' | 'front' | 'rear';
export interface Deceleration {
  /** Of the bicycle on the slope, m/s²; 0 or less: it does not slow down. */
  readonly value: number;
  readonly limit: 'adhesion' | 'rear wheel lifts';
}

/** Most that the road and the wheelbase allow at an adhesion and a grade (rise over run, negative downhill). */
export function mostDeceleration(p: BrakePlace, adhesion: number, grade: number, wheels: BrakeWheels): Deceleration {
  const [cos, sin] = slopeOf(grade);
  const { wheelbase: w, ahead: x, height: h, gravity: g } = p;
  if (!(adhesion > 0 && adhesion < Infinity)) throw new RangeError(`adhesion ${adhesion} holds nothing`);
  const slope = g * sin;
  if (wheels === 'rear')
    return { value: (adhesion * g * cos * (w - x)) / (w + adhesion * h) + slope, limit: 'adhesion' };
  const grip =
    wheels === 'both'
      ? adhesion * g * cos
      : adhesion * h < w
        ? (adhesion * g * cos * x) / (w - adhesion * h)
        : Number.POSITIVE_INFINITY;
  const slides = grip + slope;
  return slides <= p.lift ? { value: slides, limit: 'adhesion' } : { value: p.lift, limit: 'rear wheel lifts' };
}

export interface Stop {
  /** m, from seeing to standing; Infinity where it does not slow down. */
  readonly distance: number;
  readonly seconds: number;
  readonly reaction: number;
  readonly buildUp: number;
  readonly braking: number;
}

/** Way to a stop. `deceleration`: of the bicycle once the brake has its full force; `slope`: g sin θ, negative downhill; m/s². */
export function stopFrom(speed: number, deceleration: number, reaction: number, buildUp: number, slope = 0): Stop {
  const never: Stop = {
    distance: Infinity,
    seconds: Infinity,
    reaction: Infinity,
    buildUp: Infinity,
    braking: Infinity,
  };
  if (!(deceleration > 0)) return never;
  // Downhill the bicycle gains speed until the brake holds: while nobody brakes, and while the brake builds up.
  const before = speed * reaction - (slope * reaction * reaction) / 2;
  const start = Math.max(0, speed - slope * reaction);
  const t = buildUp;
  // Deceleration from `slope` to `deceleration`, evenly.
  const after = start - ((slope + deceleration) * t) / 2;
  if (after <= 0) {
    // It stands before the brake has its full force: v = v₀ − a₀ τ − (a₁ − a₀) τ²/2t.
    const k = (deceleration - slope) / t;
    const tau = (-slope + Math.sqrt(slope * slope + 2 * k * start)) / k;
    const way = start * tau - (slope * tau * tau) / 2 - (k * tau * tau * tau) / 6;
    return { distance: before + way, seconds: reaction + tau, reaction: before, buildUp: way, braking: 0 };
  }
  const rising = start * t - (slope * t * t) / 2 - ((deceleration - slope) * t * t) / 6;
  const full = (after * after) / (2 * deceleration);
  return {
    distance: before + rising + full,
    seconds: reaction + t + after / deceleration,
    reaction: before,
    buildUp: rising,
    braking: full,
  };
}
