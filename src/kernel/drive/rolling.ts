/**
 * Rolling resistance by wheel size.
 *
 * Crr = C (D₀/D)^n for tyres of one build and pressure: n between 0.5 and 1 covers the measurements that we know (tests of
 * 305 to 622 mm wheels found build and pressure to matter more than size, M. Lafford 1998–2002; one pair of one design gave
 * 1.67 times the resistance at 486 mm for 678 mm, n = 1.5, and so differs in more than size). Defaults: C = 0.005 at 678 mm, a
 * commuter's tyre on even asphalt, n = 0.75: from memory.
 * Another tyre: a factor of 0.6 to 1.6; rough asphalt more than doubles it, and small wheels suffer more.
 */
import { power } from '../math/power.ts';

export const ROLLING_DEFAULT = { rolling: 0.005, diameter: 0.678, exponent: 0.75 } as const;
export const ROLLING_EXPONENT = [0.5, 1] as const;
/** 1-sigma share by which tyres of one size differ; default, from memory. */
export const ROLLING_TYRE_SPREAD = 0.25;

export interface RollingResistance {
  readonly value: number;
  /** With the exponent at the ends of its range. */
  readonly low: number;
  readonly high: number;
}

/** Rolling resistance of one wheel of outside diameter `diameter` (m). @throws RangeError for a diameter that is not above 0. */
export function rollingBySize(
  diameter: number,
  from: { readonly rolling: number; readonly diameter: number; readonly exponent: number } = ROLLING_DEFAULT,
): RollingResistance {
  if (!(diameter > 0 && diameter < Infinity)) throw new RangeError(`a wheel of ${diameter} m does not roll`);
  const at = (n: number): number => from.rolling * power(from.diameter / diameter, n);
  const ends = ROLLING_EXPONENT.map(at);
  return { value: at(from.exponent), low: Math.min(...ends), high: Math.max(...ends) };
}

/** Of a bicycle: each wheel by the share of the weight that it carries. */
export const sharedRolling = (front: number, rear: number, frontShare: number): number =>
  frontShare * front + (1 - frontShare) * rear;
