/**
 * The value program: every number of a candidate as a slot, and the steps that compute the dependent ones in order.
 *
 * Slots 0..D-1 are the dimensions. A slot is constant (kept in `initial`), a free dimension (copied from `x`) or computed
 * by a step. Running the program allocates nothing.
 */
import type { Path } from '../text.ts';
import type { Dimension } from '../units.ts';

export interface SlotInfo {
  /** Where the number stands in the file. */
  readonly path: Path;
  readonly dimension: Dimension;
  /** The unit in which the file writes it, else the usual one of its kind. */
  readonly unit: string;
  /** The text as written; empty for a default or a derived value. */
  readonly text: string;
  /** Slots that it is computed from. */
  readonly reads: readonly number[];
}
export type Evaluate = (value: Float64Array) => number;

export interface Program {
  readonly initial: number[];
  readonly slots: SlotInfo[];
  /** Slot and rule of each step, in the order in which they run. */
  readonly steps: { readonly slot: number; readonly evaluate: Evaluate }[];
}
export const newProgram = (): Program => ({ initial: [], slots: [], steps: [] });

/** What `fileValues` last gave for a program; dropped whenever the program grows. */
const known = new WeakMap<Program, Float64Array>();

/** A slot whose value comes later (`define`); NaN until then. */
export function reserve(program: Program, info: SlotInfo): number {
  known.delete(program);
  program.initial.push(Number.NaN);
  return program.slots.push(info) - 1;
}
export function constant(program: Program, value: number, info: SlotInfo): number {
  const slot = reserve(program, info);
  program.initial[slot] = value;
  return slot;
}
/** Gives a reserved slot its rule; without anything to read it becomes a constant. */
export function define(program: Program, slot: number, evaluate: Evaluate, reads: readonly number[]): void {
  known.delete(program);
  program.slots[slot] = { ...program.slots[slot]!, reads };
  if (reads.length === 0) program.initial[slot] = evaluate(NO_VALUES);
  else program.steps.push({ slot, evaluate });
}
const NO_VALUES = new Float64Array(0);

export type Run = (x: Float64Array, value: Float64Array) => void;
/** `x` holds one number per dimension; only those of `free` are read, the others follow them. */
export function compileRun(program: Program, free: readonly number[]): Run {
  const initial = Float64Array.from(program.initial);
  const slots = Int32Array.from(program.steps, (step) => step.slot);
  const rules = program.steps.map((step) => step.evaluate);
  const count = rules.length;
  const dimensions = Int32Array.from(free);
  return (x, value) => {
    value.set(initial);
    for (let i = 0; i < dimensions.length; i++) value[dimensions[i]!] = x[dimensions[i]!]!;
    for (let i = 0; i < count; i++) value[slots[i]!] = rules[i]!(value);
  };
}

/** All values at the file's own dimensions: one array for all who ask between two changes of the program, not to be written. */
export function fileValues(program: Program): Float64Array {
  const before = known.get(program);
  if (before) return before;
  const value = new Float64Array(program.initial.length);
  compileRun(program, [])(value, value);
  known.set(program, value);
  return value;
}
