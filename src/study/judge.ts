/**
 * The ledger: the brief's demands and wishes, each with today's figure, limit and margin.
 *
 * Figures are in the quantity's own unit. Margin: how far the figure lies on the good side of the limit; negative is a miss.
 * A demand that cannot be computed does not hold: the ledger says why.
 */
import { type Brief, DIMENSION, type Given, type Problem, parseUnit, type Span, sameDimension } from '#project';
import { findQuantity, type Quantity } from './catalogue.ts';
import type { Evaluation } from './evaluate.ts';
import type { SlotNames } from './family.ts';
import { score, worth } from './value.ts';

export interface LedgerRow {
  readonly quantity: string;
  readonly title: string;
  readonly kind: 'demand' | 'wish';
  /** In `unit`; null where it cannot be computed. */
  readonly value: number | null;
  readonly unit: string;
  /** The limit of a demand; the best end of a wish. */
  readonly limit: number;
  /** Which side is good. */
  readonly sense: 'at_most' | 'at_least';
  readonly margin: number | null;
  readonly holds: boolean;
  /** One standard deviation of the figure, in `unit`. */
  readonly spread: number | null;
  readonly because: string;
  /** Why there is no figure. */
  readonly absent?: string;
  readonly note?: string;
  /** Outside the range in which the figure means something. */
  readonly outside?: string;
  /** Wishes only: value 0…1, weight, the end worth nothing. */
  readonly score?: number;
  readonly weight?: number;
  readonly worst?: number;
}

export interface Ledger {
  readonly rows: readonly LedgerRow[];
  readonly holdsAll: boolean;
  /** Weighted mean of the wishes, 0…1. */
  readonly score: number;
}

/** Display value per SI. */
export const unitFactor = (unit: string): number => (unit === '' ? 1 : parseUnit(unit)!.factor);
/** A demand that misses by less than this share of its limit's size still holds: rounding of typed numbers, not a concession. */
const ROUNDING = 1e-9;

/** Problems of demands and wishes that only the catalogue can show: unknown quantities, limits in the wrong kind of unit. */
export function checkBrief(brief: Brief, names: SlotNames): Problem[] {
  const problems: Problem[] = [];
  const say = (code: Problem['code'], span: Span, path: string, message: string, hint?: string): void => {
    problems.push({
      code,
      severity: 'error',
      file: brief.file,
      path,
      line: span.line,
      column: span.column,
      length: span.length,
      message,
      ...(hint ? { hint } : {}),
    });
  };
  const check = (quantity: string, path: Span, where: string, limits: readonly (Given | undefined)[]): void => {
    const found = findQuantity(quantity, names);
    if (!('quantity' in found)) {
      const hint = found.nearest
        ? `did you mean \`${found.nearest}\`?`
        : '`foldwright check --quantities` lists them all';
      say('quantity.unknown', path, where, `there is no quantity \`${quantity}\``, hint);
      return;
    }
    const { unit } = found.quantity.family;
    const dimension = unit === '' ? DIMENSION.number : parseUnit(unit)!.dimension;
    for (const limit of limits)
      if (limit && !limit.zero && !sameDimension(limit.dimension, dimension)) {
        const span = brief.where(limit.path, 'value');
        const wanted = unit === '' ? 'a plain number' : `a value in ${unit}`;
        say('demand.limit', span, limit.path.join('.'), `\`${quantity}\` takes ${wanted}, not \`${limit.text}\``);
      } else if (limit && unit === '%' && Math.abs(limit.value) > 1.5 && !limit.text.includes('%')) {
        const span = brief.where(limit.path, 'value');
        const said = `\`${limit.text}\` is ${(100 * limit.value).toFixed(0)} %`;
        say(
          'demand.limit',
          span,
          limit.path.join('.'),
          `${said}: no ${quantity} is that much`,
          `write ${limit.text} %`,
        );
      }
  };
  for (const d of brief.demands)
    check(d.quantity, brief.where([...d.path, 'quantity'], 'value'), d.path.join('.'), [d.atMost, d.atLeast]);
  for (const w of brief.wishes)
    check(w.quantity, brief.where([...w.path, 'quantity'], 'value'), w.path.join('.'), [w.best, w.worst]);
  return problems;
}

/** The ledger of one evaluated candidate. The brief must have passed `checkBrief`. */
export function judge(brief: Brief, evaluation: Evaluation): Ledger {
  const at = new Map(evaluation.quantities.map((q, i) => [q.id, i]));
  const facts = (id: string) => {
    const i = at.get(id);
    const quantity: Quantity | undefined = i === undefined ? undefined : evaluation.quantities[i];
    const reason = i === undefined ? `\`${id}\` is not computed for this candidate` : evaluation.reason[i];
    const unit = quantity?.family.unit ?? '';
    const factor = unitFactor(unit);
    const base = {
      quantity: id,
      title: quantity?.family.title ?? id,
      unit,
      factor,
      value: reason === undefined ? evaluation.value[i!]! / factor : null,
    };
    if (!quantity || reason !== undefined) return { ...base, spread: null, extra: { absent: reason ?? '' } };
    const { family, slot } = quantity;
    const note = family.note?.(evaluation.results, slot);
    const outside = family.outside?.(evaluation.results, slot);
    return {
      ...base,
      spread: family.spread(evaluation.results, slot) / factor,
      extra: { ...(note ? { note } : {}), ...(outside ? { outside } : {}) },
    };
  };
  const rows: LedgerRow[] = [];
  for (const demand of brief.demands) {
    const f = facts(demand.quantity);
    const sides = [['at_most', demand.atMost] as const, ['at_least', demand.atLeast] as const];
    for (const [sense, given] of sides) {
      if (!given) continue;
      const limit = given.value / f.factor;
      const margin = f.value === null ? null : sense === 'at_most' ? limit - f.value : f.value - limit;
      rows.push({
        quantity: f.quantity,
        title: f.title,
        kind: 'demand',
        value: f.value,
        unit: f.unit,
        limit,
        sense,
        margin,
        holds: margin !== null && margin >= -ROUNDING * Math.max(1, Math.abs(limit)),
        spread: f.spread,
        because: demand.because,
        ...f.extra,
      });
    }
  }
  const preferences: { best: number; worst: number; weight: number }[] = [];
  const values: number[] = [];
  for (const wish of brief.wishes) {
    const f = facts(wish.quantity);
    const best = wish.best.value / f.factor;
    const worst = wish.worst.value / f.factor;
    const sense = best < worst ? 'at_most' : 'at_least';
    const preference = { best, worst, weight: wish.weight };
    const value = f.value === null ? 0 : worth(preference, f.value);
    preferences.push(preference);
    values.push(value);
    const margin = f.value === null ? null : sense === 'at_most' ? best - f.value : f.value - best;
    rows.push({
      quantity: f.quantity,
      title: f.title,
      kind: 'wish',
      value: f.value,
      unit: f.unit,
      limit: best,
      sense,
      margin,
      holds: margin !== null && margin >= 0,
      spread: f.spread,
      because: wish.because,
      score: value,
      weight: wish.weight,
      worst,
      ...f.extra,
    });
  }
  return {
    rows,
    holdsAll: rows.every((r) => r.kind !== 'demand' || r.holds),
    score: score(preferences, values),
  };
}
