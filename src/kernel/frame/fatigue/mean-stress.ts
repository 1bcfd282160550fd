/**
 * Mean stress for bare metal and for welds that were stress-relieved. MPa.
 *
 *   Goodman (Shigley, Mechanical Engineering Design): σar = σa/(1 − σm/Su) for σm > 0; compression earns nothing
 *   Smith, Watson & Topper 1970, J. Materials 5:767: σar = √(σmax σa); no damage while σmax ≤ 0
 *   EN 1993-1-9, 7.2.1 (from memory): in bare or stress-relieved details 60 % of the compressive part of a range counts
 *
 * As welded, residual stresses keep the weld in tension and the whole range counts: none of the three applies.
 * A life of bare metal comes from a straight log–log line through 0.9·Su at 10³ cycles (handbook estimate, from memory) and the fatigue
 * strength of the material at its number of cycles; the line goes on beyond it, as if there were no limit.
 */
import { power } from '../../math/power.ts';
import { insist } from './refusal.ts';

export interface StressSwing {
  readonly max: number;
  readonly min: number;
}

const amplitude = ({ max, min }: StressSwing): number => {
  insist(max >= min, 'max', 'the greatest stress is not less than the least');
  return (max - min) / 2;
};

/** Fully reversed amplitude that does the same damage; Infinity when the mean reaches the ultimate strength. */
export function goodmanAmplitude(swing: StressSwing, ultimate: number): number {
  insist(ultimate > 0, 'ultimate', 'the ultimate strength must be positive');
  const mean = (swing.max + swing.min) / 2;
  if (mean <= 0) return amplitude(swing);
  return mean < ultimate ? amplitude(swing) / (1 - mean / ultimate) : Number.POSITIVE_INFINITY;
}

/** The same by Smith, Watson and Topper; 0 where nothing is pulled. */
export const swtAmplitude = (swing: StressSwing): number => {
  const a = amplitude(swing);
  return swing.max > 0 ? Math.sqrt(swing.max * a) : 0;
};

/** Range that counts against the curve of a detail: all of it as welded; 60 % of its compressive part if relieved. */
export function effectiveRange(swing: StressSwing, condition: 'as-welded' | 'stress-relieved' | 'bare'): number {
  const whole = 2 * amplitude(swing);
  if (condition === 'as-welded') return whole;
  const tension = Math.max(swing.max, 0) - Math.max(swing.min, 0);
  return tension + 0.6 * (whole - tension);
}

/** Fatigue of bare metal as data gives it: amplitude at so many cycles, fully reversed. */
export interface BareMetal {
  readonly ultimate: number;
  readonly amplitude: number;
  readonly cycles: number;
}

/** Exponent k of N ∝ σ^−k between 0.9·Su at 10³ cycles and the fatigue strength. */
function exponent({ ultimate, amplitude: strength, cycles }: BareMetal): number {
  insist(strength > 0 && strength < 0.9 * ultimate, 'amplitude', 'a fatigue strength lies between 0 and 0.9 Su');
  insist(cycles > 1e3, 'cycles', 'a fatigue strength belongs to more than 1000 cycles');
  return Math.log(cycles / 1e3) / Math.log((0.9 * ultimate) / strength);
}

/** Cycles at a fully reversed amplitude. */
export function bareCycles(metal: BareMetal, reversed: number): number {
  insist(reversed >= 0, 'amplitude', 'an amplitude is 0 or more');
  if (reversed === 0) return Number.POSITIVE_INFINITY;
  return metal.cycles * power(metal.amplitude / reversed, exponent(metal));
}

/** Fully reversed amplitude at so many cycles. */
export function bareAmplitude(metal: BareMetal, cycles: number): number {
  insist(cycles > 0, 'cycles', 'the number of cycles must be positive');
  return metal.amplitude * power(metal.cycles / cycles, 1 / exponent(metal));
}

/** Factor by which greatest and least stress may grow together before failure at so many cycles, by Goodman. */
export function goodmanReserve(metal: BareMetal, swing: StressSwing, cycles: number): number {
  const allowed = bareAmplitude(metal, cycles);
  const mean = Math.max(0, (swing.max + swing.min) / 2);
  // f σa/(1 − f σm/Su) = allowed, solved for f.
  const demand = amplitude(swing) + (allowed * mean) / metal.ultimate;
  return demand > 0 ? allowed / demand : Number.POSITIVE_INFINITY;
}
