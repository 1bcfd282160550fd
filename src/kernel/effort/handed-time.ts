/** What a procedure done by hand consists of: elements of motion, by step, with their times. Times in s, motions in TMU (0.036 s). */

/** What a motion element belongs to: where the time goes. */
export type ElementKind = 'reach' | 'grasp' | 'lock' | 'move' | 'body' | 'foot' | 'eye';

export interface TimedElement {
  /** As in the table of motion times: `R16B`, `M24B`, `AB`. */
  readonly code: string;
  readonly kind: ElementKind;
  readonly tmu: number;
  /** In plain words: `reach 0.41 m to the lever of main`. */
  readonly what: string;
  readonly hand: 'one' | 'both' | 'foot' | 'body';
}
export interface HandledStep {
  /** Index into `Model.fold`; when unfolding, the step that is undone. -1: a holder of the package, or getting up again. */
  readonly move: number;
  readonly words: string;
  readonly elements: readonly TimedElement[];
  readonly seconds: number;
  readonly bends: number;
}
/** One way of the procedure. Nothing to do: no steps and 0 s. */
export interface HandledTime {
  readonly steps: readonly HandledStep[];
  /** By a trained hand. */
  readonly seconds: number;
  /** Range for somebody who does it for the first time, s. */
  readonly firstTime: readonly [number, number];
  /** s by kind of element; they add up to `seconds`. */
  readonly shares: Readonly<Record<ElementKind, number>>;
  readonly bends: number;
  /** How often a hand lets go of one thing and takes another. */
  readonly gripChanges: number;
  /** Moves for which one hand is not enough. */
  readonly twoHandMoves: number;
  /** How often one walks round to the other side. */
  readonly walks: number;
}
