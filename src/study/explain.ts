/**
 * The sheet of one quantity: what went in, the formula, the substitution, the result, how far to trust it, where it comes
 * from, and which dimensions it depends on most.
 *
 * Dependence: central difference of the quantity with each free dimension, per millimetre or degree; a step that changes which
 * shapes touch shows as a kink, so steps are small (0.5 mm, 0.1°).
 */
import { DIMENSION, parseUnit, sameDimension } from '#project';
import type { Quantity } from './catalogue.ts';
import { evaluate, plan, readQuantity } from './evaluate.ts';
import { type Input, isAbsent } from './family.ts';
import { unitFactor } from './judge.ts';
import type { Judged, Workspace } from './workspace.ts';

export interface Dependence {
  readonly dimension: string;
  /** Change of the quantity, in its unit, when the dimension grows by `step`. */
  readonly change: number;
  /** `1 mm`, `1 deg`, `1 %`. */
  readonly step: string;
}
export interface Sheet {
  readonly id: string;
  readonly title: string;
  readonly symbol: string;
  readonly unit: string;
  readonly meaning: string;
  readonly value: number | null;
  readonly absent?: string;
  readonly spread: number | null;
  readonly formula?: string;
  readonly substitution?: string;
  readonly inputs: readonly Input[];
  readonly steps: readonly string[];
  readonly source: string;
  readonly standing: string;
  readonly valid: string;
  readonly outside?: string;
  readonly caution?: string;
  readonly note?: string;
  readonly dependsOn: readonly Dependence[];
}

/** Figures of a substitution: enough digits to follow, few enough to read. */
const figure = (x: number): string => String(Number(x.toPrecision(5)));

/** The formula with each symbol replaced by its value and unit. */
export function substitute(formula: string, inputs: readonly Input[]): string {
  const bySymbol = new Map(inputs.map((i) => [i.symbol, i]));
  return formula.replace(/[a-zA-Z_][a-zA-Z0-9_]*/g, (name) => {
    const input = bySymbol.get(name);
    if (!input) return name;
    const text = `${figure(input.value)}${input.unit ? ` ${input.unit}` : ''}`;
    return input.value < 0 ? `(${text})` : text;
  });
}

/** Steps by dimension kind, SI, with how a change is quoted. */
function stepOf(dimension: readonly number[]): { readonly h: number; readonly per: number; readonly words: string } {
  const is = (d: readonly number[]) => sameDimension(dimension as never, d as never);
  if (is(DIMENSION.length)) return { h: 0.0005, per: 0.001, words: '1 mm' };
  if (is(DIMENSION.angle)) return { h: (0.1 * Math.PI) / 180, per: Math.PI / 180, words: '1 deg' };
  return { h: 1e-3, per: 1e-2, words: '0.01' };
}

/** The free dimensions by their effect, largest first; those without effect are left out. */
export function dependence(w: Workspace, j: Judged, quantity: Quantity, most = 5): Dependence[] {
  const { candidate } = j;
  const { model } = candidate;
  const p = plan(candidate, w.setting, w.reference, ['drag', 'settle', 'ask'], new Set([quantity.id]));
  const s = model.newState();
  const read = (k: number, dx: number): number => {
    const x = model.x.slice();
    x[k]! += dx;
    const got = readQuantity(evaluate(p, x, s).results, quantity);
    return isAbsent(got) ? Number.NaN : got;
  };
  const factor = unitFactor(quantity.family.unit);
  const all = candidate.free
    .map((k) => {
      const { h, per, words } = stepOf(candidate.slots[k]!.dimension);
      const change = ((read(k, h) - read(k, -h)) / (2 * h)) * (per / factor);
      return { dimension: model.top.names.dimensions[k]!, change, step: words };
    })
    .filter((d) => Number.isFinite(d.change) && Math.abs(d.change) > 1e-9)
    .sort((a, b) => Math.abs(b.change) - Math.abs(a.change));
  // what moves it a thousand times less than the first is not worth a line
  return all.filter((d) => Math.abs(d.change) > 1e-3 * Math.abs(all[0]!.change)).slice(0, most);
}

/** The sheet of one evaluated quantity; `w` is given when dependence is wanted, which evaluates the candidate anew per dimension. */
export function explain(j: Judged, quantity: Quantity, w?: Workspace): Sheet {
  const { family, slot } = quantity;
  const { results } = j.evaluation;
  const got = readQuantity(results, quantity);
  const known = !isAbsent(got);
  const factor = unitFactor(family.unit);
  const inputs = known ? (family.inputs?.(results, slot) ?? []) : [];
  const note = known ? family.note?.(results, slot) : undefined;
  const outside = known ? family.outside?.(results, slot) : undefined;
  return {
    id: quantity.id,
    title: family.title,
    symbol: family.symbol,
    unit: family.unit,
    meaning: family.meaning,
    value: known ? got / factor : null,
    ...(known ? {} : { absent: got.absent }),
    spread: known ? family.spread(results, slot) / factor : null,
    ...(family.formula ? { formula: `${family.symbol} = ${family.formula}` } : {}),
    ...(family.formula && known ? { substitution: substitute(family.formula, inputs) } : {}),
    inputs,
    steps: family.steps ?? [],
    source: family.source,
    standing: family.standing,
    valid: family.valid,
    ...(outside ? { outside } : {}),
    ...(family.caution ? { caution: family.caution } : {}),
    ...(note ? { note } : {}),
    dependsOn: w && known ? dependence(w, j, quantity) : [],
  };
}

/** Unit of a formula input in the expression language: '' is a plain number. */
export const inputDimension = (input: Input) =>
  input.unit === '' ? DIMENSION.number : parseUnit(input.unit)!.dimension;
