/**
 * Mass against stiffness: the least mass at which a stiffness reaches each of a row of levels, all demands held.
 *
 * Method: the levels run from what the lightest gauges have to what the strongest have. Each is searched twice, upward from the
 * answer of the level below and downward from that of the level above; the lighter one counts. An answer for a higher level
 * that is lighter serves the lower one too, so that the curve never falls. Exchanges are computed only where single steps
 * added up say that they nearly hold.
 */
import type { Quantity } from '../catalogue.ts';
import type { Bench } from './bench.ts';
import type { Held } from './held.ts';
import { type Choice, type Found, type Searching, search } from './search.ts';

export interface CurvePoint {
  /** Stiffness asked for and reached, in the quantity's unit; kg of the bicycle. */
  readonly level: number;
  readonly value: number;
  readonly mass: number;
  readonly choice: Choice;
}
export interface Curve {
  readonly quantity: Quantity;
  readonly points: readonly CurvePoint[];
  /** Why there are no points. */
  readonly absent?: string;
}

const LEVELS = 7;
/** Exchanges that single steps say to miss by more than this are not computed. */
const ESTIMATE = 0.03;
/** A range of stiffness that is smaller than this share is none. */
const FLAT = 0.01;

/** Three significant figures, never above. */
export function roundedDown(x: number): number {
  const step = 10 ** (Math.floor(Math.log10(x)) - 2);
  return Number((Math.floor(x / step + 1e-9) * step).toPrecision(3));
}

/** @param least the gauges of least mass; they hold all of `held`. */
export function* curveOf(
  bench: Bench,
  held: readonly Held[],
  quantity: Quantity,
  least: Choice,
  stiffest: Choice,
): Generator<Searching, Curve> {
  const low = bench.value(least, quantity);
  const high = bench.value(stiffest, quantity);
  if (!(low.value > 0)) return { quantity, points: [], absent: low.absent ?? 'it cannot be computed' };
  if (!(high.value > low.value * (1 + FLAT)))
    return { quantity, points: [], absent: 'the strongest gauges are hardly stiffer than the lightest that hold' };
  const levels = Array.from({ length: LEVELS }, (_, i) =>
    roundedDown(low.value + ((high.value - low.value) * i) / (LEVELS - 1)),
  );
  const at = (level: number) =>
    bench.sizing([...held, { quantity, sense: 'at_least', limit: level, because: 'level of the curve' }]);
  const found: (Found | undefined)[] = levels.map(() => undefined);
  const better = (i: number, f: Found): void => {
    const known = found[i];
    if (f.holds && !(known && known.mass <= f.mass)) found[i] = f;
  };
  let from = least;
  for (const [i, level] of levels.entries()) {
    const f = yield* search(at(level), { from, estimate: ESTIMATE });
    better(i, f);
    if (f.holds) from = f.choice;
  }
  from = stiffest;
  for (let i = levels.length - 1; i >= 0; i--) {
    const p = at(levels[i]!);
    if (p.look(from).miss > 0) continue;
    const f = yield* search(p, { from, estimate: ESTIMATE });
    better(i, f);
    from = found[i]?.choice ?? from;
  }
  for (let i = levels.length - 2; i >= 0; i--) {
    const above = found[i + 1];
    if (above) better(i, above);
  }
  const points = levels.flatMap((level, i): CurvePoint[] => {
    const f = found[i];
    return f
      ? [{ level, value: bench.value(f.choice, quantity).value, mass: bench.mass(f.choice), choice: f.choice }]
      : [];
  });
  return { quantity, points };
}
