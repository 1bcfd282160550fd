/**
 * Rank and reserve: how far each detail is from the range that its curve allows at the test's cycles.
 *
 *   reserve = allowable range at the cycles / computed range    (hot-spot or nominal, as the curve asks)
 *
 * A reserve ranks details of one frame and of like frames. It is no verdict: walls of bicycle tubes lie below the
 * test base of the codes, and the weld of one shop is not that of another. Only where a tested frame calibrates it does a
 * reserve say whether a test is passed: the factor is the range that the tested frame bore over the range that the curve
 * allows at the life it reached. A frame that did not crack gives a lower bound of the factor, which is on the safe side.
 * Source: own, in the sense of a relative assessment (EN 1993-1-9, 2 and annex A allow categories from tests).
 * Not here: scatter of the calibration; one test carries little more than its own weight.
 */
import { cyclesAtRange, type FatigueCurve, rangeAtCycles } from './curve.ts';
import { insist } from './refusal.ts';

/** Bicycle walls against the codes: goes beside every reserve that no test calibrates. */
export const FATIGUE_CAUTION =
  'Bicycle walls (0.5–3 mm) lie below the test base of the fatigue codes (about 3–4 mm and more). This reserve ranks details; it does not predict the outcome of a test.';

/** A tested frame's answer: range borne over range allowed at the life reached. */
export interface FatigueCalibration {
  readonly factor: number;
  /** Which test it comes from. */
  readonly test: string;
}
export interface FatigueUse {
  /** Detail and place: `weld of beam to seat_tube`. */
  readonly name: string;
  readonly curve: FatigueCurve;
  /** Computed range, MPa. */
  readonly range: number;
  /** Cycles of the test. */
  readonly cycles: number;
}
export interface FatigueReserve {
  readonly name: string;
  readonly range: number;
  /** Allowable range at the cycles, MPa, calibration included. */
  readonly allowable: number;
  /** Infinity when there is no range. */
  readonly reserve: number;
  /** Cycles over life at this range, without calibration. */
  readonly damage: number;
  readonly calibration?: FatigueCalibration;
  /** Only with a calibration: whether the reserve is at least 1. */
  readonly passes?: boolean;
}

/** @throws FatigueRefusal for a negative range, cycles or a factor that is not positive. */
export function fatigueReserve(use: FatigueUse, calibration?: FatigueCalibration): FatigueReserve {
  const { name, curve, range, cycles } = use;
  const factor = calibration?.factor ?? 1;
  insist(factor > 0 && factor < Number.POSITIVE_INFINITY, 'calibration.factor', 'a calibration factor is positive');
  const allowable = factor * rangeAtCycles(curve, cycles);
  const damage = cycles / cyclesAtRange(curve, range);
  const reserve = range > 0 ? allowable / range : Number.POSITIVE_INFINITY;
  return {
    name,
    range,
    allowable,
    reserve,
    damage,
    ...(calibration ? { calibration, passes: reserve >= 1 } : {}),
  };
}

/** Least reserve first; equal ones by name, so that the order repeats. */
export function rankReserves(reserves: readonly FatigueReserve[]): FatigueReserve[] {
  return [...reserves].sort((a, b) =>
    a.reserve === b.reserve ? (a.name < b.name ? -1 : a.name > b.name ? 1 : 0) : a.reserve - b.reserve,
  );
}

/**
 * Calibration from a frame that was tested.
 * @param tested the computed range at the place that cracked (or was watched) and the cycles that it bore.
 * @returns the factor; a lower bound where it did not crack, and the test's name says so.
 */
export function calibrationFromTest(
  curve: FatigueCurve,
  tested: { readonly range: number; readonly cycles: number; readonly cracked: boolean; readonly test: string },
): FatigueCalibration {
  insist(tested.range > 0, 'range', 'the tested frame must have borne a range');
  const factor = tested.range / rangeAtCycles(curve, tested.cycles);
  return { factor, test: tested.cracked ? tested.test : `${tested.test} (no crack: at least)` };
}

/** One sentence for tables: never says that a test is passed without the test that calibrates it. */
export function reserveWords(r: FatigueReserve): string {
  const figure = r.reserve === Number.POSITIVE_INFINITY ? 'no stress range' : `reserve ${r.reserve.toFixed(2)}`;
  if (!r.calibration) return `${figure}; ranks only`;
  return `${figure}; ${r.passes ? 'passes' : 'does not pass'}, calibrated by ${r.calibration.test}`;
}
