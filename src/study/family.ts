/**
 * What a quantity is: declared once, read by brief, command line, pictures and reference pages alike.
 *
 * A family stands for one quantity or for one per thing (`space.{space}.margin`). A family with a `formula` prints it in
 * the sheet, and a test runs that very text through the expression evaluator on `inputs` and compares with `read`; a
 * family whose number comes out of a procedure (eigenvalues, a proven path) lists its `steps` instead.
 */
import type { Results } from './results.ts';

/** Why a number is not there. Never 0, never NaN. */
export interface Absent {
  readonly absent: string;
}
export const absent = (reason: string): Absent => ({ absent: reason });
export const isAbsent = (value: number | Absent): value is Absent => typeof value !== 'number';

export type Tier = 'drag' | 'settle' | 'ask';
export type Discipline =
  | 'mass'
  | 'simple'
  | 'steer'
  | 'fold'
  | 'path'
  | 'box'
  | 'stow'
  | 'handling'
  | 'cables'
  | 'likeness'
  | 'frame'
  | 'stiffness'
  | 'frame_joints'
  | 'frame_checks'
  | 'frame_play'
  | 'frame_buckling'
  | 'frame_use'
  | 'frame_blows'
  | 'frame_folded'
  | 'fit'
  | 'fit_change'
  | 'effort'
  | 'burden'
  | 'hands'
  | 'pinch'
  | 'foolproof'
  | 'drive'
  | 'trip';

/** One input of a formula, in the unit that the sheet shows; `value` is in that unit. */
export interface Input {
  readonly symbol: string;
  readonly meaning: string;
  readonly value: number;
  readonly unit: string;
}

export interface Family {
  /** `steer.trail`, or with one variable part in braces: `space.{space}.margin`. */
  readonly id: string;
  readonly title: string;
  readonly symbol: string;
  /** The unit that files and screens use; '' for a plain number. */
  readonly unit: string;
  readonly meaning: string;
  readonly tier: Tier;
  readonly needs: readonly Discipline[];
  /** What fills the braces for this candidate and brief; [''] for a family without braces. */
  slots(names: SlotNames): readonly string[];
  /** The value in SI, or why there is none. `slot` is what fills the braces. */
  read(results: Results, slot: string): number | Absent;
  /** Right-hand side in the expression language of the files, over the symbols of `inputs`. */
  readonly formula?: string;
  inputs?(results: Results, slot: string): readonly Input[];
  /** The procedure in plain sentences, where there is no closed formula. */
  readonly steps?: readonly string[];
  readonly source: string;
  /** `published`, or `practice` (common practice, no source), `memory` (default, from memory), `definition` (our own). */
  readonly standing: 'published' | 'practice' | 'memory' | 'definition';
  /** The range in which the number means something, in words. */
  readonly valid: string;
  /** Says so when this candidate lies outside that range. */
  outside?(results: Results, slot: string): string | undefined;
  /** One standard deviation, SI: how far the built bicycle may lie from this figure. */
  spread(results: Results, slot: string): number;
  /** Where the number could hurt somebody who trusts it. */
  readonly caution?: string;
  /** Facts worth a line in the sheet: where and when (`move 2, at 83 deg: wheel against seat tube`). */
  note?(results: Results, slot: string): string | undefined;
}

/** The names that families may range over. */
export interface SlotNames {
  readonly spaces: readonly { readonly name: string; readonly kind: string }[];
  readonly bodies: readonly string[];
  readonly groups: readonly string[];
  readonly moves: readonly string[];
  readonly joints: readonly string[];
  /** Heights to which the brief lifts it. */
  readonly lifts: readonly string[];
}

export const idOf = (family: Family, slot: string): string => family.id.replace(/\{[a-z]+\}/, slot);
export const single = (): readonly string[] => [''];
