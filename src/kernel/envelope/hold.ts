/**
 * What holds the package folded, and the least margin against opening by itself.
 *
 * A *freedom* is a way in which the folded package can still move: one unlocked joint with its followers. It is given as
 * the velocity field of every body per unit of its rate. Virtual work does the rest, so that closed loops need no other
 * treatment than open trees (any text on analytical mechanics, e.g. Lanczos 1970, III):
 *   gravity      in direction d does g·d·W per unit rate, W = Σ m_i·v_i(c_i), the rate of the first moment of mass
 *                relative to the body that is held;
 *   a holder     of force F between bodies a, b at the point P does at most F·|v_b(P) − v_a(P)|;
 *   friction     of torque M in a joint does at most M·|relative turn of its two bodies|.
 * Situations, each with its worst direction d of gravity in the package:
 *   any attitude   d ∥ W, so the moment is g·|W|;
 *   carried        hanging from the handle (d from handle to centre of mass), swaying by up to `sway`, times a dynamic factor;
 *   rolled         set down from an edge of height e on wheels that yield by s: energy gives the peak force of a linear
 *                  spring, 2·(1 + e/s) times the weight, along d within `cone` of straight down as it rolls.
 * Two freedoms may move together so that a holder sees nothing: every pair is searched for its worst combination too.
 * Assumptions: a holder resists along whatever motion its point has (a catch does; a magnet resists sliding less, declare
 * the smaller force); quasi-static, so the inertia that would slow an opening is left out, on the safe side; stops hold
 * whatever presses against them; friction is counted apart and never relied on silently.
 * Not here: three or more freedoms at once, wear, a catch that is knocked open.
 */

import type { RigidMass } from '../mass/rigid-mass.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { add, cross, dot, type Numbers, norm, scale, sub, type Vec3 } from '../math/rigid.ts';

type HolderKind = 'catch' | 'magnet' | 'strap' | 'friction' | 'latch';

/** Velocity of every body for a unit rate: 6 per body, turn (rad) and velocity at the origin (m) per unit of rate, package frame. */
export interface Freedom {
  readonly name: string;
  readonly rates: Float64Array;
  /** Sense in which it opens: 1, −1, or 0 for both (no stop on either side). */
  readonly opens: -1 | 0 | 1;
}
export interface FoldedHolder {
  readonly name: string;
  readonly kind: HolderKind;
  readonly bodies: readonly [number, number];
  /** Where it acts, package frame; of no account for friction. */
  readonly point: Vec3;
  /** N; N·m for friction in a pivot, N in a slide (then `point` counts). */
  readonly force: number;
  /** Friction in a joint that slides. */
  readonly slides?: boolean;
}
export interface HoldSituation {
  /** Body that is held or rests: all motion is relative to it. */
  readonly heldBody: number;
  readonly handle: Vec3 | undefined;
  /** Upward direction when rolling or standing, package frame; undefined when it does not roll. */
  readonly rollingUp: Vec3 | undefined;
}
export interface HoldAssumptions {
  /** rad. */
  readonly sway: number;
  readonly carryFactor: number;
  /** m. */
  readonly edge: number;
  readonly yield: number;
  /** rad. */
  readonly cone: number;
}
/** Sway 30°, stairs 1.5 times the weight, edge 30 mm, tyres yield 15 mm, 30° round straight down. Defaults, from memory. */
export const HOLD_ASSUMPTIONS: HoldAssumptions = {
  sway: Math.PI / 6,
  carryFactor: 1.5,
  edge: 0.03,
  yield: 0.015,
  cone: Math.PI / 6,
};
/** Peak force, in weights, of a fall by `edge` onto a linear spring that yields by `yields`: ½·F·s = m·g·(e + s). */
export const edgeFactor = (edge: number, yields: number): number => 2 * (1 + edge / yields);

export type SituationName = 'any attitude' | 'carried' | 'rolled over an edge';
export interface HoldMargin {
  readonly situation: SituationName;
  /** One freedom, or two that move together. */
  readonly freedoms: readonly string[];
  /** Rate of each of `freedoms`, the largest is ±1. */
  readonly mix: readonly number[];
  /** Opening moment (N·m per rad of the leading joint, or N per m of a slide) and what holds against it. */
  readonly opening: number;
  readonly holding: number;
  readonly friction: number;
  /** holding / opening without friction; Infinity when gravity does not open it. */
  readonly ratio: number;
  /** holding − opening, without friction. */
  readonly margin: number;
  readonly holders: readonly string[];
  /** It holds with friction and not without. */
  readonly reliesOnFriction: boolean;
  /** Unit direction of gravity in the package. */
  readonly down: Vec3;
}
export interface HoldResult {
  /** Worst first. */
  readonly margins: readonly HoldMargin[];
  /** Least ratio of all; undefined when nothing is free (all joints locked). */
  readonly least: HoldMargin | undefined;
}

const turnOf = (r: Numbers, body: number): Vec3 => [r[6 * body]!, r[6 * body + 1]!, r[6 * body + 2]!];
const velocityAt = (r: Numbers, body: number, p: Vec3): Vec3 =>
  add([r[6 * body + 3]!, r[6 * body + 4]!, r[6 * body + 5]!], cross(turnOf(r, body), p));

/** Rates of a tree joint alone: the bodies in `moving` turn about (or slide along) its posed axis. */
export function treeFreedom(
  name: string,
  bodyCount: number,
  moving: Iterable<number>,
  point: Vec3,
  axis: Vec3,
  sliding: boolean,
  opens: -1 | 0 | 1,
): Freedom {
  const rates = new Float64Array(6 * bodyCount);
  const v = sliding ? axis : cross(point, axis);
  for (const body of moving) rates.set(sliding ? [0, 0, 0, ...v] : [...axis, ...v], 6 * body);
  return { name, rates, opens };
}

/**
 * Rates from two nearby postures (12 per body), `step` apart and symmetric about the folded one: any linkage solver's
 * followers included. The error falls with step²; 1e-4 rad leaves about 1e-8.
 */
export function freedomBetween(
  name: string,
  before: Numbers,
  after: Numbers,
  step: number,
  opens: -1 | 0 | 1,
): Freedom {
  const bodies = before.length / 12;
  const rates = new Float64Array(6 * bodies);
  for (let b = 0; b < bodies; b++) {
    const o = 12 * b;
    // Ṙ Rᵀ with R taken at the middle: antisymmetric part holds the turn, ṫ − ω × t the velocity at the origin.
    const dot3 = (i: number, j: number): number => {
      let sum = 0;
      for (let k = 0; k < 3; k++)
        sum +=
          ((after[o + 4 * i + k]! - before[o + 4 * i + k]!) * (after[o + 4 * j + k]! + before[o + 4 * j + k]!)) / 2;
      return sum / step;
    };
    const w: Vec3 = [(dot3(2, 1) - dot3(1, 2)) / 2, (dot3(0, 2) - dot3(2, 0)) / 2, (dot3(1, 0) - dot3(0, 1)) / 2];
    const t = (k: number, sign: number): number => after[o + 4 * k + 3]! + sign * before[o + 4 * k + 3]!;
    const v: Vec3 = [t(0, -1) / step, t(1, -1) / step, t(2, -1) / step];
    const middle: Vec3 = [t(0, 1) / 2, t(1, 1) / 2, t(2, 1) / 2];
    rates.set([...w, ...sub(v, cross(w, middle))], 6 * b);
  }
  return { name, rates, opens };
}

/** W = Σ m_i (v_i(c_i) − v_held(c_i)): how the first moment of mass moves per unit rate, kg·m. */
export function firstMomentRate(rates: Numbers, bodies: readonly RigidMass[], held: number): Vec3 {
  let w: Vec3 = [0, 0, 0];
  bodies.forEach((b, i) => {
    if (b.mass === 0) return; // its centre of mass is undefined
    w = add(w, scale(sub(velocityAt(rates, i, b.com), velocityAt(rates, held, b.com)), b.mass));
  });
  return w;
}

/** Greatest d·W over unit d within `cone` of the unit `axis`, and that d. */
function steepest(w: Vec3, axis: Vec3, cone: number): { readonly value: number; readonly down: Vec3 } {
  const l = norm(w);
  if (!(l > 0)) return { value: 0, down: axis };
  const along = dot(w, axis);
  const across = sub(w, scale(axis, along));
  const k = norm(across);
  const angle = Math.atan2(k, along);
  if (angle <= cone) return { value: l, down: scale(w, 1 / l) };
  // W straight against the axis: every side is alike.
  if (!(k > 1e-12 * l)) return { value: -l * Math.cos(cone), down: axis };
  const down = add(scale(axis, Math.cos(cone)), scale(across, Math.sin(cone) / k));
  return { value: dot(w, down), down };
}

function grip(h: FoldedHolder, rates: Numbers): number {
  const [a, b] = h.bodies;
  if (h.kind === 'friction' && !h.slides) return h.force * norm(sub(turnOf(rates, b), turnOf(rates, a)));
  return h.force * norm(sub(velocityAt(rates, b, h.point), velocityAt(rates, a, h.point)));
}

/** Directions of a pair of freedoms per quarter, and how often the best is refined: 1° and then 1e-6°. */
const PAIR_STEPS = 90;
const PAIR_REFINE = 20;

/**
 * Least margins of the folded package, worst first: each freedom in each situation, then each pair of freedoms.
 * `bodies` are the posed masses, one per body. @throws RangeError when a freedom has another number of bodies.
 */
export function holdMargins(
  freedoms: readonly Freedom[],
  holders: readonly FoldedHolder[],
  bodies: readonly RigidMass[],
  situation: HoldSituation,
  assume: HoldAssumptions = HOLD_ASSUMPTIONS,
): HoldResult {
  for (const f of freedoms)
    if (f.rates.length !== 6 * bodies.length)
      throw new RangeError(`freedom ${f.name} has ${f.rates.length / 6} bodies, the package ${bodies.length}`);
  let mass = 0;
  let com: Vec3 = [0, 0, 0];
  for (const b of bodies) {
    if (b.mass === 0) continue;
    mass += b.mass;
    com = add(com, scale(b.com, b.mass));
  }
  com = scale(com, 1 / mass);

  const cases: { name: SituationName; axis: Vec3; cone: number; factor: number }[] = [
    { name: 'any attitude', axis: [0, 0, -1], cone: Math.PI, factor: 1 },
  ];
  const { handle, rollingUp, heldBody } = situation;
  if (handle && norm(sub(com, handle)) > 0) {
    const hang = sub(com, handle);
    cases.push({ name: 'carried', axis: scale(hang, 1 / norm(hang)), cone: assume.sway, factor: assume.carryFactor });
  }
  if (rollingUp)
    cases.push({
      name: 'rolled over an edge',
      axis: scale(rollingUp, -1),
      cone: assume.cone,
      factor: edgeFactor(assume.edge, assume.yield),
    });

  const measure = (
    at: (typeof cases)[number],
    names: readonly string[],
    mix: readonly number[],
    rates: Numbers,
  ): HoldMargin => {
    const s = steepest(firstMomentRate(rates, bodies, heldBody), at.axis, at.cone);
    const opening = STANDARD_GRAVITY * at.factor * s.value;
    let holding = 0;
    let friction = 0;
    const active: string[] = [];
    for (const h of holders) {
      const g = grip(h, rates);
      if (h.kind === 'friction') friction += g;
      else {
        holding += g;
        if (g > 0) active.push(h.name);
      }
    }
    const opens = opening > 0;
    return {
      situation: at.name,
      freedoms: names,
      mix,
      opening,
      holding,
      friction,
      ratio: opens ? holding / opening : Infinity,
      margin: holding - opening,
      holders: active,
      reliesOnFriction: opens && holding < opening && holding + friction >= opening,
      down: s.down,
    };
  };

  const margins: HoldMargin[] = [];
  const senses = (f: Freedom): readonly number[] => (f.opens === 0 ? [1, -1] : [f.opens]);
  const mixed = (f: Freedom, g: Freedom, x: number, y: number): Float64Array =>
    f.rates.map((r, i) => x * r + y * g.rates[i]!);
  for (const at of cases) {
    const worse = (a: HoldMargin | undefined, b: HoldMargin): HoldMargin => (a && a.ratio <= b.ratio ? a : b);
    for (const f of freedoms) {
      let worst: HoldMargin | undefined;
      for (const x of senses(f))
        worst = worse(
          worst,
          measure(
            at,
            [f.name],
            [x],
            f.rates.map((r) => x * r),
          ),
        );
      if (worst) margins.push(worst);
    }
    for (let i = 0; i < freedoms.length; i++)
      for (let j = i + 1; j < freedoms.length; j++) {
        const [f, g] = [freedoms[i]!, freedoms[j]!];
        let worst: HoldMargin | undefined;
        for (const sx of senses(f))
          for (const sy of senses(g)) {
            const look = (t: number): HoldMargin => {
              const [c, s] = [sx * Math.cos(t), sy * Math.sin(t)];
              const k = 1 / Math.max(Math.abs(c), Math.abs(s));
              return measure(at, [f.name, g.name], [k * c, k * s], mixed(f, g, k * c, k * s));
            };
            let best = Math.PI / 4;
            let width = Math.PI / 2 / PAIR_STEPS;
            let here = look(best);
            for (let k = 1; k < PAIR_STEPS; k++) {
              const m = look(k * width);
              if (m.ratio < here.ratio) [best, here] = [k * width, m];
            }
            for (let k = 0; k < PAIR_REFINE; k++) {
              width /= 2;
              for (const t of [best - width, best + width]) {
                if (t <= 0 || t >= Math.PI / 2) continue;
                const m = look(t);
                if (m.ratio < here.ratio) [best, here] = [t, m];
              }
            }
            worst = worse(worst, here);
          }
        // Worth a line of its own only when moving together is worse than either alone.
        const alone = margins.filter((m) => m.situation === at.name && m.freedoms.length === 1);
        const single = Math.min(
          ...alone.filter((m) => m.freedoms[0] === f.name || m.freedoms[0] === g.name).map((m) => m.ratio),
        );
        if (worst && worst.ratio < single - 1e-9) margins.push(worst);
      }
  }
  margins.sort((a, b) => a.ratio - b.ratio);
  return { margins, least: margins[0] };
}
