/**
 * A bicycle drops from a kerb and lands on both wheels: the tyres stop the bicycle, bent legs and arms stop the rider.
 *
 * Model: two masses one above the other. The bicycle with its luggage lands at √(2 g h) on the tyres (spring, stiffer once the rim is
 * met); the rider comes down at the same speed on a spring that only presses. Two moments count: when the tyres press hardest, and when the
 * rider does. Method: fixed-step fourth-order Runge–Kutta until the bicycle has stopped once and the rider
 * rises from the lowest point.
 * Check: on rigid tyres under a bicycle without mass the rider's force is m g (1 + √(1 + 2 h k/(m g))), the suddenly stopped mass on a spring.
 * Source: energy of fall, theory; stiffnesses are the user's. Assumptions: level landing on both wheels at once, free fall (the bicycle
 * rolls off fast enough: v²/g above the wheel's radius), no damping. Units: mm, N, kg, s. Not here: landing on one wheel, pitch.
 */
import { STANDARD_GRAVITY } from '../../math/constants.ts';
import { rungeKutta } from './runge-kutta.ts';
import { type TyreSpring, tyreForce } from './tyre-on-step.ts';

export interface LandingInput {
  /** mm. */
  readonly height: number;
  /** kg. */
  readonly bicycle: number;
  readonly rider: number;
  /** One tyre; two share the load equally. */
  readonly tyre: TyreSpring;
  /** N/mm. */
  readonly legs: number;
}
export interface LandingMoment {
  /** Both tyres together, and the rider's on the bicycle, N. */
  readonly tyres: number;
  readonly rider: number;
  /** s after touch-down. */
  readonly time: number;
}
export interface LandingResult {
  readonly tyresMost: LandingMoment;
  readonly riderMost: LandingMoment;
  readonly bottomed: boolean;
  readonly steps: number;
  /** False where the step limit came first. */
  readonly finished: boolean;
}

/** Steps that a period of the stiffest spring is cut into; observed error of the peaks against 1920: 1e-4. */
const PER_PERIOD = 30;
const MOST_STEPS = 100_000;

/** @throws RangeError for a mass, stiffness or height that is not above 0. */
export function landOnTyres(input: LandingInput, perPeriod = PER_PERIOD): LandingResult {
  const { height, bicycle, rider, tyre, legs } = input;
  if (!(height > 0 && bicycle > 0 && rider > 0 && tyre.stiffness > 0 && legs > 0))
    throw new RangeError('height, masses and stiffnesses must be above 0');
  const MM = 1000;
  const g = STANDARD_GRAVITY * MM;
  const onTyres = (down: number): number => 2 * tyreForce(tyre, down);
  const onRider = (gap: number): number => Math.max(0, legs * gap);
  // State: how far bicycle and rider have come down since touch-down, and their rates.
  const motion = rungeKutta(4, (at, rate) => {
    const push = onRider(at[1]! - at[0]!);
    rate[0] = at[2]!;
    rate[1] = at[3]!;
    rate[2] = g + (MM * (push - onTyres(at[0]!))) / bicycle;
    rate[3] = g - (MM * push) / rider;
  });
  const v = Math.sqrt(2 * g * height);
  const state = Float64Array.of(0, 0, v, v);
  const fastest = Math.max((2 * Math.max(tyre.stiffness, tyre.rim) + legs) / bicycle, legs / rider) * MM;
  const dt = (2 * Math.PI) / Math.sqrt(fastest) / perPeriod;
  let tyresMost: LandingMoment = { tyres: 0, rider: 0, time: 0 };
  let riderMost = tyresMost;
  let bottomed = false;
  let stopped = false;
  let n = 0;
  for (; n < MOST_STEPS; n++) {
    const now = { tyres: onTyres(state[0]!), rider: onRider(state[1]! - state[0]!), time: n * dt };
    if (now.tyres > tyresMost.tyres) tyresMost = now;
    if (now.rider > riderMost.rider) riderMost = now;
    if (state[0]! > tyre.stroke) bottomed = true;
    if (state[2]! <= 0) stopped = true;
    if (stopped && state[3]! <= 0 && now.rider < riderMost.rider) break;
    motion.step(state, dt);
  }
  return { tyresMost, riderMost, bottomed, steps: n, finished: n < MOST_STEPS };
}
