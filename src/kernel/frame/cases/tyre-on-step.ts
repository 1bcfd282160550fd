/**
 * A wheel runs over a step: the force between tyre and edge from the wheel's radius, the speed, the tyre's spring and the mass behind the hub.
 *
 * Model: the hub moves in the wheel's plane and answers forces like the rigid bicycle behind it (`HubMobility` at the axle); the
 * tyre is a radial spring against the edge, against the ground before the step and against the ground on top of it, stiffer once
 * it has been pressed in by `stroke` and the rim is met. Speed is not kept up: what the step takes is lost.
 * Method: fixed-step fourth-order Runge–Kutta from first touch until the hub has passed over the edge and the force falls.
 * Limits that it must meet (tests): a hub too heavy to be lifted presses the tyre into the edge by the height of the step plus
 * the static sag (the ground before the step, still touched, adds the load at rest); a light, hard tyre hit once answers with v sin θ √(k m), cos θ = 1 − h/R, where the hub's speed towards the edge is v sin θ.
 * Source: rigid-wheel impulse and point-contact tyre, theory; stiffness and stroke are the user's.
 * Assumptions: square edge, point contact, no damping, no friction along the edge, steps lower than the hub.
 * Units: mm, N, s. Not here: enveloping by the tyre's width of contact (which softens small steps), suspension, spokes.
 */
import { rungeKutta } from './runge-kutta.ts';
import type { HubMobility } from './statics.ts';

export interface TyreSpring {
  /** N/mm, mm, N/mm. */
  readonly stiffness: number;
  readonly stroke: number;
  readonly rim: number;
}
export interface StepInput {
  /** Loaded radius, step height, mm; speed, mm/s; load at rest, N. */
  readonly radius: number;
  readonly height: number;
  readonly speed: number;
  readonly load: number;
  readonly tyre: TyreSpring;
  /** Of the hub, m/s² per N. */
  readonly mobility: HubMobility;
}
export interface StepResult {
  /** Force on the wheel at its greatest, N: rearward is negative. */
  readonly force: readonly [x: number, z: number];
  readonly peak: number;
  /** How far the tyre is pressed in then, mm, and whether it met the rim at any time. */
  readonly pressed: number;
  readonly bottomed: boolean;
  /** False where the bicycle stops before the step: the force is the greatest until then. */
  readonly climbed: boolean;
  /** s after first touch. */
  readonly time: number;
  readonly steps: number;
}

export const tyreForce = (tyre: TyreSpring, pressed: number): number =>
  pressed <= 0
    ? 0
    : pressed <= tyre.stroke
      ? tyre.stiffness * pressed
      : tyre.stiffness * tyre.stroke + tyre.rim * (pressed - tyre.stroke);

/** Steps that a period of the stiffest spring is cut into; observed error of the peak against 1920: 3e-4, a corner in the spring at the rim included. */
const PER_PERIOD = 60;
const MOST_STEPS = 20_000;

/** @throws RangeError for a step as high as the hub, or a speed, radius or stiffness that is not above 0. */
export function tyreOnStep(input: StepInput, perPeriod = PER_PERIOD): StepResult {
  const { radius, height, speed, load, tyre, mobility } = input;
  if (!(height > 0 && height < radius))
    throw new RangeError(`a step of ${height} mm is not below the hub of a wheel of ${radius} mm`);
  if (!(speed > 0 && tyre.stiffness > 0 && tyre.stroke > 0 && load >= 0))
    throw new RangeError('speed, stiffness and stroke must be above 0');
  const free = radius + load / tyre.stiffness;
  const MM = 1000;
  const [fx, fz, pressedAt] = [0, 1, 2];
  const out = new Float64Array(3);
  // Force on the wheel with the hub at (x, z); the edge is at (0, height).
  const touch = (x: number, z: number): void => {
    out.fill(0);
    if (x >= 0) {
      const pressed = free - (z - height);
      out[fz] = tyreForce(tyre, pressed);
      out[pressedAt] = pressed;
      return;
    }
    const up = z - height;
    const distance = Math.sqrt(x * x + up * up);
    const edge = tyreForce(tyre, free - distance);
    out[fx] = (edge * x) / distance;
    out[fz] = (edge * up) / distance + tyreForce(tyre, free - z);
    out[pressedAt] = Math.max(free - distance, free - z);
  };
  // State: x, z, and their rates.
  const motion = rungeKutta(4, (at, rate) => {
    touch(at[0]!, at[1]!);
    const gx = out[fx]!;
    const gz = out[fz]! - load;
    rate[0] = at[2]!;
    rate[1] = at[3]!;
    rate[2] = MM * (mobility.xx * gx + mobility.xz * gz);
    rate[3] = MM * (mobility.xz * gx + mobility.zz * gz);
  });
  const state = Float64Array.of(-Math.sqrt(free * free - (radius - height) * (radius - height)), radius, speed, 0);
  const stiffest = Math.max(tyre.stiffness, tyre.rim) * MM * Math.max(mobility.xx, mobility.zz);
  const dt = Math.min((2 * Math.PI) / Math.sqrt(stiffest) / perPeriod, radius / speed / perPeriod);
  let best: StepResult = { force: [0, 0], peak: 0, pressed: 0, bottomed: false, climbed: false, time: 0, steps: 0 };
  let bottomed = false;
  let n = 0;
  for (; n < MOST_STEPS; n++) {
    touch(state[0]!, state[1]!);
    const size = Math.sqrt(out[fx]! * out[fx]! + out[fz]! * out[fz]!);
    if (out[pressedAt]! > tyre.stroke) bottomed = true;
    if (size > best.peak)
      best = { ...best, force: [out[fx]!, out[fz]!], peak: size, pressed: out[pressedAt]!, time: n * dt };
    // Over the edge, and the hub goes up: the tyre is only released from here. Or thrown back off it.
    if ((state[0]! >= 0 && state[3]! >= 0) || (state[2]! <= 0 && size < best.peak)) break;
    motion.step(state, dt);
  }
  return { ...best, bottomed, climbed: state[0]! >= 0, steps: n };
}

/** The impulse bound, N: a hub of mass `mass` (kg) hits the edge once at v sin θ; for judging a case by hand. */
export function impulseForce(radius: number, height: number, speed: number, stiffness: number, mass: number): number {
  const cos = 1 - height / radius;
  const towards = (speed / 1000) * Math.sqrt(1 - cos * cos);
  return towards * Math.sqrt(stiffness * 1000 * mass);
}
