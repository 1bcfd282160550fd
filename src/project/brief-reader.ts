/** How a brief's numbers are read: plain or arithmetic on plain ones, each with its place; problems are collected. */
import { evaluateConstant } from './expression.ts';
import type { Problem } from './problems.ts';
import { noteExpression, type Reader, unitOf } from './resolve/reader.ts';
import type { Amount } from './schema/values.ts';
import { type Path, type ProblemExtra, problemAt } from './text.ts';
import { DIMENSION, type Dimension, sameDimension } from './units.ts';

export type Ctx = Pick<Reader, 'document' | 'problems'>;
/** A number as the brief gives it. */
export interface Given {
  readonly value: number;
  readonly dimension: Dimension;
  /** The unit as written; '' for a plain number. */
  readonly unit: string;
  readonly text: string;
  /** True for a bare 0, which fits any quantity. */
  readonly zero: boolean;
  readonly path: Path;
}

const NOTHING: Given = { value: Number.NaN, dimension: DIMENSION.number, unit: '', text: '', zero: false, path: [] };
/** NaN, with a problem, where the number cannot be read. */
export function given(ctx: Ctx, path: Path, raw: Amount, dimension?: Dimension): Given {
  const result = evaluateConstant(raw, dimension);
  if (result.value === undefined || result.dimension === undefined) {
    for (const p of result.problems) noteExpression(ctx as Reader, path, p);
    return NOTHING;
  }
  const text = String(raw);
  const found = result.dimension;
  if (!Number.isFinite(result.value))
    say(ctx, path, 'expression.not_finite', `\`${text}\` gives no finite number`, { found: text });
  const zero = result.value === 0 && sameDimension(found, DIMENSION.number);
  return { value: result.value, dimension: found, unit: unitOf(text, found), text, zero, path };
}

export function say(ctx: Ctx, path: Path, code: Problem['code'], message: string, extra: ProblemExtra = {}): void {
  ctx.problems.push(problemAt(ctx.document, path, 'value', code, message, extra));
}
export function atLeastZero(ctx: Ctx, path: Path, value: number): number {
  if (value < 0) say(ctx, path, 'value.range', `${path.join('.')} cannot be negative`, { expected: '0 or more' });
  return value;
}
export function positive(ctx: Ctx, path: Path, value: number): number {
  if (value <= 0) say(ctx, path, 'value.range', `${path.join('.')} must be more than 0`, { expected: 'more than 0' });
  return value;
}
