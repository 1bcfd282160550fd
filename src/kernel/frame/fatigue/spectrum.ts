/**
 * Damage of a rider's own spectrum: how often each load case comes in a kilometre or a trip, and the range it makes.
 *
 * Method: Palmgren–Miner (miner.ts) with ranges under the cut-off carried on (`extended`), the safe side for loads that
 * never repeat alike. Failure at D = 1; at 0.5 by IIW-1823-07 for spectra of changing ranges (from memory).
 * Not here: how cases superpose (a kerb taken while standing on the pedals is a case of its own).
 */
import type { FatigueCurve } from './curve.ts';
import { minerDamage, type UnderCutOff } from './miner.ts';
import { insist } from './refusal.ts';

export interface SpectrumEntry {
  /** Load case that makes the range. */
  readonly case: string;
  /** How often, in one unit of the spectrum. */
  readonly cyclesPerUnit: number;
  /** MPa at the detail. */
  readonly range: number;
}
export interface FatigueSpectrum {
  readonly unit: 'km' | 'trip';
  readonly entries: readonly SpectrumEntry[];
}
export interface SpectrumDamage {
  /** Over the whole use; fails at `critical`. */
  readonly damage: number;
  readonly critical: number;
  /** Kilometres or trips to D = critical; Infinity when nothing does damage. */
  readonly life: number;
  /** Each entry's damage and its share of the whole (0 when there is none). */
  readonly parts: readonly { readonly case: string; readonly damage: number; readonly share: number }[];
}

/** Miner sum at failure: 1 by EN; 0.5 by IIW for spectra. */
export const criticalDamage = (curve: FatigueCurve): number => (curve.code === 'IIW' ? 0.5 : 1);

/**
 * Damage after so many units (km or trips) of use.
 * @throws FatigueRefusal for negative numbers.
 */
export function spectrumDamage(
  curve: FatigueCurve,
  spectrum: FatigueSpectrum,
  units: number,
  options: { readonly critical?: number; readonly underCutOff?: UnderCutOff } = {},
): SpectrumDamage {
  const { critical = criticalDamage(curve), underCutOff = 'extended' } = options;
  insist(units >= 0 && units < Number.POSITIVE_INFINITY, 'units', 'the use must be 0 or more');
  insist(critical > 0, 'critical', 'the Miner sum at failure must be positive');
  const blocks = spectrum.entries.map((e) => ({ range: e.range, cycles: e.cyclesPerUnit }));
  const { parts, damage } = minerDamage(curve, blocks, underCutOff);
  return {
    damage: damage * units,
    critical,
    life: damage > 0 ? critical / damage : Number.POSITIVE_INFINITY,
    parts: spectrum.entries.map((e, i) => ({
      case: e.case,
      damage: parts[i]! * units,
      share: damage > 0 ? parts[i]! / damage : 0,
    })),
  };
}
