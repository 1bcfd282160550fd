/**
 * Linear damage accumulation (Palmgren 1924, Miner 1945): D = Σ n/N, failure at D = 1 unless said.
 *
 * Ranges under the cut-off. EN 1993-1-9 and EN 1999-1-3 let them add no damage, whatever else the spectrum holds: that is
 * `code` here. Larger ranges that grow a crack make small ones matter; `extended` therefore gives them the last slope
 * carried on, unless every range of the spectrum lies under the cut-off: only then is the life infinite. It is never less
 * damage than by the code. The codes' further permission, no damage at all while every range stays under the constant-amplitude
 * limit, is not used in D: `allUnderLimit` reports it.
 * Not here: sequence effects, cycle counting of a time history.
 */
import { power } from '../../math/power.ts';
import { cyclesAtRange, type FatigueCurve } from './curve.ts';
import { insist } from './refusal.ts';

export interface FatigueBlock {
  /** MPa. */
  readonly range: number;
  readonly cycles: number;
}
export type UnderCutOff = 'code' | 'extended';

export interface MinerDamage {
  /** Cycles to failure at each block's range; Infinity where it does no damage. */
  readonly lives: readonly number[];
  /** n/N of each block. */
  readonly parts: readonly number[];
  readonly damage: number;
  /** Every range is at or under the constant-amplitude limit (the first knee). */
  readonly allUnderLimit: boolean;
}

/**
 * Damage of a sequence of blocks; `code` unless said.
 * @throws FatigueRefusal for a negative range or number of cycles.
 */
export function minerDamage(
  curve: FatigueCurve,
  blocks: readonly FatigueBlock[],
  underCutOff: UnderCutOff = 'code',
): MinerDamage {
  const largest = blocks.reduce((most, b) => Math.max(most, b.range), 0);
  const last = curve.legs.at(-1)!;
  const lives = blocks.map(({ range, cycles }, i) => {
    insist(cycles >= 0 && cycles < Number.POSITIVE_INFINITY, `blocks.${i}.cycles`, 'a number of cycles is 0 or more');
    insist(range >= 0 && range < Number.POSITIVE_INFINITY, `blocks.${i}.range`, 'a stress range is 0 or more');
    if (underCutOff === 'extended' && range > 0 && range < curve.cutOff && largest >= curve.cutOff)
      return last.cycles * power(last.range / range, last.m);
    return cyclesAtRange(curve, range);
  });
  const parts = blocks.map((b, i) => (b.cycles === 0 ? 0 : b.cycles / lives[i]!));
  return {
    lives,
    parts,
    damage: parts.reduce((sum, d) => sum + d, 0),
    allUnderLimit: largest <= curve.limit,
  };
}

/**
 * Life under a mixture of levels from the life at each level alone: 1/Σ(share/life), and each level's share of the damage.
 * @param lives cycles, hours or blocks to failure at each level.
 * @param shares shares of the time (or of the cycles) spent at it; they sum to 1.
 */
export function minerLife(
  lives: readonly number[],
  shares: readonly number[],
): { readonly life: number; readonly damageShares: readonly number[] } {
  insist(lives.length === shares.length && lives.length > 0, 'shares', 'as many shares as lives');
  const total = shares.reduce((sum, s) => sum + s, 0);
  insist(Math.abs(total - 1) < 1e-9 && shares.every((s) => s >= 0), 'shares', 'shares are 0 or more and sum to 1');
  insist(
    lives.every((n) => n > 0),
    'lives',
    'lives must be positive',
  );
  const rates = lives.map((n, i) => shares[i]! / n);
  const rate = rates.reduce((sum, r) => sum + r, 0);
  return { life: 1 / rate, damageShares: rates.map((r) => (rate > 0 ? r / rate : 0)) };
}
