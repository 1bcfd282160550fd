/**
 * Weighing overrides prediction: scale factors on mass elements, and how far the prediction was off.
 *
 * A weighed body scales all its elements alike. A weighed total scales the elements of the bodies that were not weighed,
 * so that the sum holds. Factors are taken once, at the dimensions of the file, and stay: when a dimension is dragged the
 * weighed bicycle is the calibration, not a constant. CoM and the shape of the inertia stay as predicted.
 * Uncertainty: the elements of a weighed body get equal relative spreads whose root sum of squares is the weighing's.
 * With a weighed total the rest is a difference, u² = u(total)² + Σu(bodies)²; it is negatively correlated with the weighed
 * bodies, which the independent sum of `massTotals` ignores: it then overstates u(total), by √3 at most for one body.
 * Source: JCGM 100:2008 5.1.2. Mass growth: aerospace practice, default from memory.
 * Not here: weighed centres of mass (`bench.ts` computes them).
 */

/** One weighing: a body's name or `total`; kg; spread is 1 sigma. */
export interface Weighing {
  readonly name: string;
  readonly mass: number;
  readonly spread: number;
}
/** What a weighing said about the prediction; `off` in combined sigmas, signed, weighed minus predicted. */
export interface WeighingCheck {
  readonly name: string;
  readonly weighed: number;
  readonly predicted: number;
  readonly predictedSigma: number;
  readonly off: number;
}
export interface Weighed {
  /** One factor and one relative 1-sigma per mass element. */
  readonly factor: Float64Array;
  readonly spread: Float64Array;
  readonly checks: readonly WeighingCheck[];
  /** Weighings that cannot be used, with the reason; they leave their elements as predicted. */
  readonly conflicts: readonly { readonly name: string; readonly reason: string }[];
}

/**
 * Factors and spreads from weighings. `mass` is `State.mass` at the file's dimensions (10 numbers per element), `spread`
 * the predicted relative spread of each element. A name that is neither a body nor `total`, a mass that is not positive,
 * a body without predicted mass, or a total below its weighed bodies is a conflict.
 */
export function applyWeighed(
  bodies: readonly string[],
  massBody: Int32Array,
  mass: Float64Array,
  spread: ArrayLike<number>,
  weighings: readonly Weighing[],
): Weighed {
  const n = massBody.length;
  const factor = new Float64Array(n).fill(1);
  const out = Float64Array.from(spread);
  const checks: WeighingCheck[] = [];
  const conflicts: { name: string; reason: string }[] = [];
  const taken = new Set<number>();
  let sumWeighed = 0;
  let varianceWeighed = 0;

  const use = (w: Weighing, pick: (e: number) => boolean, target: number, variance: number): boolean => {
    let predicted = 0;
    let squares = 0;
    for (let e = 0; e < n; e++)
      if (pick(e)) {
        predicted += mass[10 * e]!;
        squares += mass[10 * e]! * mass[10 * e]!;
      }
    if (!(predicted > 0)) {
      conflicts.push({ name: w.name, reason: 'no predicted mass to scale' });
      return false;
    }
    for (let e = 0; e < n; e++)
      if (pick(e)) {
        factor[e] = target / predicted;
        out[e] = Math.sqrt(variance / squares) / factor[e]!;
      }
    return true;
  };
  const check = (w: Weighing, pick: (e: number) => boolean): void => {
    let predicted = 0;
    let variance = 0;
    for (let e = 0; e < n; e++)
      if (pick(e)) {
        const m = mass[10 * e]!;
        predicted += m;
        variance += m * spread[e]! * m * spread[e]!;
      }
    checks.push({
      name: w.name,
      weighed: w.mass,
      predicted,
      predictedSigma: Math.sqrt(variance),
      off: (w.mass - predicted) / Math.sqrt(variance + w.spread * w.spread),
    });
  };

  for (const w of weighings) {
    if (!(w.mass > 0 && w.spread >= 0)) {
      conflicts.push({ name: w.name, reason: 'mass must be positive and its spread not negative' });
      continue;
    }
    if (w.name === 'total') continue;
    const b = bodies.indexOf(w.name);
    if (b < 0) {
      conflicts.push({ name: w.name, reason: 'no such body' });
      continue;
    }
    const mine = (e: number): boolean => massBody[e] === b;
    if (!use(w, mine, w.mass, w.spread * w.spread)) continue;
    check(w, mine);
    taken.add(b);
    sumWeighed += w.mass;
    varianceWeighed += w.spread * w.spread;
  }
  const total = weighings.find((w) => w.name === 'total' && w.mass > 0 && w.spread >= 0);
  if (total) {
    check(total, () => true);
    if (!(total.mass > sumWeighed)) conflicts.push({ name: 'total', reason: 'less than its weighed bodies together' });
    else
      use(
        total,
        (e) => !taken.has(massBody[e]!),
        total.mass - sumWeighed,
        total.spread * total.spread + varianceWeighed,
      );
  }
  return { factor, spread: out, checks, conflicts };
}

/** Scales mass and inertia of every element in place; CoMs stay. Call it at the end of `Model.fill`. */
export function scaleMasses(mass: Float64Array, factor: Float64Array): void {
  for (let e = 0; e < factor.length; e++) {
    const k = factor[e]!;
    if (k === 1) continue;
    const o = 10 * e;
    mass[o]! *= k;
    for (let i = 4; i < 10; i++) mass[o + i]! *= k;
  }
}

export type Maturity = 'concept' | 'preliminary' | 'drawings' | 'weighed';
/** By how much a mass grows until it is built, as a share of today's estimate: aerospace practice, default from memory. */
export const MASS_GROWTH: Readonly<Record<Maturity, { readonly low: number; readonly high: number }>> = {
  concept: { low: 0.15, high: 0.25 },
  preliminary: { low: 0.08, high: 0.15 },
  drawings: { low: 0.03, high: 0.05 },
  weighed: { low: 0, high: 0.01 },
};
/** The mass to expect when built: today's mass with the allowance for its maturity. */
export const grownMass = (mass: number, maturity: Maturity): { readonly low: number; readonly high: number } => ({
  low: mass * (1 + MASS_GROWTH[maturity].low),
  high: mass * (1 + MASS_GROWTH[maturity].high),
});
