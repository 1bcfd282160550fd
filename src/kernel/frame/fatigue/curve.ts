/**
 * S-N curves of welded details: life at a stress range, range at a life. MPa and cycles.
 *
 * All curves pass through the category Δσc at 2·10⁶ cycles and are straight in log–log scale, with knees:
 *
 *   EN 1993-1-9:2005, 7.1   direct: m = 3 to 5·10⁶, m = 5 to 1·10⁸, cut-off; shear and lattice joints: m = 5 to 1·10⁸, cut-off
 *   IIW-1823-07, 3.2 and 4.3 direct: m1 (3 unless said) to the knee at 1·10⁷, then 2·m1 − 1 (5 for m1 = 3) under variable
 *                           amplitude or 22 under constant amplitude; shear: m = 5, knee at 1·10⁸. No cut-off
 *   EN 1999-1-3:2007, 6.2   m1 (3.4 unless said) to 5·10⁶, m1 + 2 to 1·10⁸, cut-off
 *
 * Knees and slopes from memory, except IIW's knee and m = 22 (seen in a copy); 2·m1 − 1 for other slopes is Haibach's rule.
 * Assumptions: 97.7 % survival (EN: 95 % with 75 % confidence), stress ranges as welded, whatever the mean stress.
 * The partial factor γMf divides the category. Not here: thickness reduction (it concerns walls over 25 mm; thin walls
 * get no bonus), low-cycle fatigue under 10⁴ cycles, corrosion.
 */
import { power } from '../../math/power.ts';
import { insist } from './refusal.ts';

export const FATIGUE_CODES = ['EN1993-1-9', 'IIW', 'EN1999-1-3'] as const;
export type FatigueCode = (typeof FATIGUE_CODES)[number];

export interface FatigueCurveSpec {
  readonly code: FatigueCode;
  /** Δσc or FAT: stress range at 2·10⁶ cycles, MPa. */
  readonly category: number;
  /** First slope; 3, or 3.4 for EN 1999-1-3, or 5 for shear. */
  readonly slope?: number;
  readonly stress?: 'direct' | 'shear';
  /** IIW only: what lies beyond the knee. `variable` unless said. */
  readonly amplitude?: 'variable' | 'constant';
  /** Partial factor γMf that divides the category; 1 unless said. */
  readonly gammaMf?: number;
}

/** A straight part of the curve: N = cycles·(range/Δσ)^m for ranges down to `lowest`. */
export interface FatigueLeg {
  readonly m: number;
  readonly cycles: number;
  readonly range: number;
  readonly lowest: number;
}
export interface FatigueCurve {
  readonly code: FatigueCode;
  /** MPa at 2·10⁶ cycles, γMf included. */
  readonly category: number;
  readonly legs: readonly FatigueLeg[];
  /** Range at the first knee: under it, one constant range alone does no damage by EN 1993 and EN 1999. */
  readonly limit: number;
  /** Range under which the life is infinite; 0 where the code has none. */
  readonly cutOff: number;
}

export const REFERENCE_CYCLES = 2e6;
/** Under this life the codes' curves stop: plasticity decides. */
export const LEAST_CYCLES = 1e4;

/** Knees as [slope, cycles at its end]. */
function curveOf(code: FatigueCode, category: number, parts: readonly [number, number][]): FatigueCurve {
  const legs: FatigueLeg[] = [];
  let cycles = REFERENCE_CYCLES;
  let range = category;
  for (const [m, end] of parts) {
    const lowest = Number.isFinite(end) ? range * power(cycles / end, 1 / m) : 0;
    legs.push({ m, cycles, range, lowest });
    cycles = end;
    range = lowest;
  }
  return { code, category, legs, limit: legs[0]!.lowest, cutOff: legs.at(-1)!.lowest };
}

/**
 * The curve of a detail.
 * @throws FatigueRefusal for a category, slope or factor that is not positive, or a slope that EN 1993-1-9 does not have.
 */
export function fatigueCurve(spec: FatigueCurveSpec): FatigueCurve {
  const { code, category, stress, amplitude = 'variable', gammaMf = 1 } = spec;
  const shear = stress === 'shear';
  const slope = spec.slope ?? (shear ? 5 : code === 'EN1999-1-3' ? 3.4 : 3);
  insist(
    category > 0 && category < Number.POSITIVE_INFINITY,
    'category',
    'the category must be a positive stress range',
  );
  insist(gammaMf > 0 && gammaMf < Number.POSITIVE_INFINITY, 'gammaMf', 'the partial factor must be positive');
  insist(slope >= 1 && slope <= 50, 'slope', 'the slope must lie between 1 and 50');
  const c = category / gammaMf;
  if (code === 'EN1993-1-9') {
    insist(
      slope === 5 || (slope === 3 && !shear),
      'slope',
      'EN 1993-1-9 has slope 3 (direct) and 5 (shear, lattice joints)',
    );
    if (slope === 5) return curveOf(code, c, [[5, 1e8]]);
    return curveOf(code, c, [
      [3, 5e6],
      [5, 1e8],
    ]);
  }
  if (code === 'EN1999-1-3')
    return curveOf(code, c, [
      [slope, 5e6],
      [slope + 2, 1e8],
    ]);
  const beyond = amplitude === 'constant' ? 22 : 2 * slope - 1;
  return curveOf(code, c, [
    [slope, shear ? 1e8 : 1e7],
    [beyond, Number.POSITIVE_INFINITY],
  ]);
}

/** Cycles to failure at a constant stress range (MPa); Infinity under the cut-off and for no range at all. */
export function cyclesAtRange(curve: FatigueCurve, range: number): number {
  insist(range >= 0, 'range', 'a stress range is 0 or more');
  if (range === 0 || range < curve.cutOff) return Number.POSITIVE_INFINITY;
  const leg = curve.legs.find((l) => range >= l.lowest) ?? curve.legs.at(-1)!;
  return leg.cycles * power(leg.range / range, leg.m);
}

/** Stress range (MPa) that leads to failure after so many cycles; the cut-off for longer lives where there is one. */
export function rangeAtCycles(curve: FatigueCurve, cycles: number): number {
  insist(cycles > 0, 'cycles', 'the number of cycles must be positive');
  if (cycles === Number.POSITIVE_INFINITY) return curve.cutOff;
  for (const { m, cycles: anchor, range, lowest } of curve.legs) {
    const found = range * power(anchor / cycles, 1 / m);
    if (found >= lowest) return found;
  }
  return curve.cutOff;
}
