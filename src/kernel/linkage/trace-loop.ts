/**
 * Following a closed loop while one joint is driven, from one value to another.
 *
 * Method: predictor–corrector continuation in the driven value (Allgower & Georg, *Introduction to Numerical Continuation
 * Methods*, 1990, ch. 2): secant prediction (tangent for the first step), correction by `closeLoops`. A step is halved when
 * it does not close, or when the correction is large beside the step: that is how another branch would be entered. The secant
 * carries the motion straight on through a flat posture where branches meet.
 * The postures met are kept as knots. `poseOnTrace` starts each later closure from the knots around it, so a posture depends
 * only on where it is on the way, not on where the caller came from: there and back gives the same bodies.
 * Not here: turning back at a dead point (arc length): a hand that turns the driven joint cannot do it either.
 */
import { type Chain, jointCount, type Posture } from './chain.ts';
import { closeLoops, SHARPEST, unknownsJacobian } from './close-loops.ts';
import { conditioning, ratesOf } from './follower-rates.ts';
import { measureJoint } from './joint-value.ts';
import { columnSpectrum } from './least-squares.ts';
import { type ClosureReport, jointUnit, type LinkageWorkspace, type LoopSystem } from './loop-system.ts';

/** A place on the way where the mechanism may take another branch, or is at a dead point. */
export interface SingularPlace {
  readonly kind: 'branch' | 'dead';
  /** Fraction of the way, value of the driven joint (rad or m). */
  readonly u: number;
  readonly value: number;
  /** Share of the largest singular value that is left, see follower-rates.ts. */
  readonly share: number;
}
/** The way itself: what a posture on it is found from. */
export interface Way {
  readonly system: LoopSystem;
  readonly driven: number;
  readonly from: number;
  readonly to: number;
  /** Fractions of the way at the knots, rising from 0 to `reached`. */
  readonly u: Float64Array;
  /** Values of all joints at the knots, one row of joints a knot. */
  readonly q: Float64Array;
  /** dq/du of all joints at the knots, same layout: a first guess between knots good to one correction. */
  readonly slope: Float64Array;
  /** Fraction that can be followed: 1 for the whole way. */
  readonly reached: number;
  /** Least residual found at `to`, m; 0 where the whole way closes (or `to` closes, but only on another branch). */
  readonly gap: number;
}
export interface Trace extends Way {
  readonly singular: readonly SingularPlace[];
  /** A follower that the driven joint does not determine (the loop has freedom to spare all the way); -1: none. */
  readonly loose: number;
  /** Greatest |dq/dq_driven| of each joint over the knots, rad or m per rad or m. Sampled, not a proven bound. */
  readonly steepest: Float64Array;
}

/** 2.3° (or 12 mm) between knots at most. */
const LONGEST_STRIDE = 0.04;
/** A dead point is located to 1e-7 rad. */
const LEAST_STRIDE = 1e-7;
/** Gap that figures typed to 0.001 mm may leave, in units of ℓ per radian of the drive. */
const DRIFT = 3e-5;
const MAX_KNOTS = 5000;
/** Where less than a hundredth of the largest singular value is left, play and bending decide which way a joint goes. */
export const SINGULAR_SHARE = 0.01;
/** Minima of the shares below this are looked at closely between knots. */
const LOOK_CLOSER = 0.2;
/** Followers that are singular everywhere to this are not at a dead point: they are loose. */
const LOOSE_SHARE = 1e-7;

/**
 * Follows `system` from the closed posture in `s` (with `driven` at `from`) to `to`. Leaves `s` at the last posture that
 * closed. The workspace is scratch.
 */
export function traceLoop(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  to: number,
  ws: LinkageWorkspace,
): Trace {
  const n = jointCount(top);
  const { q } = s;
  const from = q[driven]!;
  const stride = Math.max(Math.abs(to - from) / jointUnit(top, ws, driven), 1e-300);
  const longest = Math.min(1, LONGEST_STRIDE / stride);
  const us: number[] = [];
  const qs: Float64Array[] = [];
  const keep = (u: number): void => {
    measureCuts(top, s, system);
    us.push(u);
    qs.push(q.slice());
  };
  // The report is overwritten by every closure: what is needed later is copied.
  const { converged: starts, residual: startGap } = closeLoops(top, s, system, ws);
  keep(0);

  let h = longest;
  while (starts && us.at(-1)! < 1 && us.length < MAX_KNOTS) {
    const u0 = us.at(-1)!;
    const last = qs.at(-1)!;
    // Not to leave a sliver for the last step.
    const u1 = u0 + h > 1 - 1e-9 ? 1 : u0 + h;
    predict(top, s, system, driven, ws, us, qs, u1 - u0, (to - from) * (u1 - u0));
    q[driven] = u1 === 1 ? to : from + (to - from) * u1;
    const guess = q.slice();
    const end = closeLoops(top, s, system, ws);
    const { moved, corrected } = lengths(top, ws, system, last, guess, q);
    // The correction of a smooth motion is of second order; a third of the step, or 0.1 rad, is another branch.
    const calm = corrected <= Math.min(0.1, 0.3 * Math.max(moved, stride * (u1 - u0)));
    // Rounded geometry leaves a gap that grows slowly with the motion; a loop that is rigid opens by nearly all of it.
    const drift = DRIFT * ws.length * stride * u1;
    const closes = end.reason === 'closed' || (end.reason === 'nearly closed' && end.residual <= drift);
    if (closes && calm) {
      keep(u1);
      h = Math.min(longest, h * 1.6);
      continue;
    }
    h = Math.min(h, u1 - u0) / 2;
    q.set(last);
    if (h * stride < LEAST_STRIDE) break;
  }
  const reached = us.at(-1)!;
  const gap = reached === 1 ? 0 : starts ? leastGap(top, s, system, driven, to, ws, qs.at(-1)!) : startGap;
  const flat = new Float64Array(us.length * n);
  qs.forEach((row, k) => {
    flat.set(row, k * n);
  });
  const slope = new Float64Array(flat.length);
  const base = { system, driven, from, to, u: Float64Array.from(us), q: flat, slope, reached, gap };
  const found = starts ? inspect(top, s, base, ws) : { singular: [], loose: -1, steepest: new Float64Array(n) };
  const trace: Trace = { ...base, ...found };
  if (starts) poseOnTrace(top, s, trace, reached, ws);
  else q.set(qs[0]!);
  return trace;
}

/** What stays open at value `to` of the driven joint, as near to the posture `last` as least squares gets. */
function leastGap(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  to: number,
  ws: LinkageWorkspace,
  last: Float64Array,
): number {
  s.q.set(last);
  s.q[driven] = to;
  return closeLoops(top, s, system, ws, SHARPEST).residual;
}

/**
 * Puts `s` at fraction `u` of the trace: q and bodyT, cut joints' own values included. Beyond `reached` the posture at
 * `reached` is shown and the report says 'not reached'. Allocates nothing; any order of calls gives the same postures.
 */
export function poseOnTrace(top: Chain, s: Posture, trace: Way, u: number, ws: LinkageWorkspace): ClosureReport {
  const n = jointCount(top);
  const { q } = s;
  const at = Math.min(Math.max(u, 0), trace.reached);
  let low = 0;
  let high = trace.u.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (trace.u[middle]! <= at) low = middle;
    else high = middle;
  }
  const span = trace.u[high]! - trace.u[low]!;
  const f = span > 0 ? (at - trace.u[low]!) / span : 0;
  for (let j = 0; j < n; j++) {
    const q0 = trace.q[low * n + j]!;
    const rise = trace.q[high * n + j]! - q0;
    const m0 = trace.slope[low * n + j]! * span;
    const m1 = trace.slope[high * n + j]! * span;
    q[j] = q0 + rise * f;
    // Cubic Hermite where the slopes are plain; near a dead point they are not, and the chord is safer (the bound is that
    // of Fritsch & Carlson 1980 for an interpolant without overshoot).
    if (m0 * rise >= 0 && m1 * rise >= 0 && Math.abs(m0) <= 3 * Math.abs(rise) && Math.abs(m1) <= 3 * Math.abs(rise))
      q[j]! += f * (1 - f) * ((1 - f) * (m0 - rise) + f * (rise - m1));
  }
  q[trace.driven] = at === 1 ? trace.to : trace.from + (trace.to - trace.from) * at;
  const report = closeLoops(top, s, trace.system, ws);
  measureCuts(top, s, trace.system);
  if (u > trace.reached + 1e-12) {
    report.converged = false;
    report.reason = 'not reached';
    report.residual = trace.gap;
  }
  return report;
}

/** Own values of the free cut joints, nearest to those in `s.q`. */
function measureCuts(top: Chain, s: Posture, system: LoopSystem): void {
  for (let k = 0; k < system.cuts.length; k++)
    if (system.fixed[k] === 0) {
      const cut = system.cuts[k]!;
      s.q[cut] = measureJoint(top, s, cut, s.q[cut]!);
    }
}

function predict(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  ws: LinkageWorkspace,
  us: readonly number[],
  qs: readonly Float64Array[],
  du: number,
  dDriven: number,
): void {
  const last = qs.at(-1)!;
  s.q.set(last);
  if (qs.length > 1) {
    const before = qs.at(-2)!;
    const ratio = du / (us.at(-1)! - us.at(-2)!);
    for (const j of system.unknowns) s.q[j] = last[j]! + (last[j]! - before[j]!) * ratio;
    return;
  }
  closeLoops(top, s, system, ws);
  const rates = ratesOf(top, s, system, driven, ws);
  // At a dead point the rates are meaningless; a prediction longer than the drive's own step by far is not used.
  for (const j of system.unknowns) {
    const step = rates[j]! * dDriven;
    if (Math.abs(step) / jointUnit(top, ws, j) < 0.2) s.q[j] = last[j]! + step;
  }
}

function lengths(
  top: Chain,
  ws: LinkageWorkspace,
  system: LoopSystem,
  last: Float64Array,
  guess: Float64Array,
  q: Float64Array,
): { moved: number; corrected: number } {
  let moved = 0;
  let corrected = 0;
  for (const j of system.unknowns) {
    const unit = jointUnit(top, ws, j);
    moved = Math.max(moved, Math.abs(q[j]! - last[j]!) / unit);
    corrected = Math.max(corrected, Math.abs(q[j]! - guess[j]!) / unit);
  }
  return { moved, corrected };
}

/** Walks the knots: steepest rates, and the places where the shares have a minimum near zero. */
function inspect(
  top: Chain,
  s: Posture,
  trace: Way,
  ws: LinkageWorkspace,
): Pick<Trace, 'singular' | 'loose' | 'steepest'> {
  const n = jointCount(top);
  const { system, driven, u: us } = trace;
  const steepest = new Float64Array(n);
  const shares = { branch: new Float64Array(us.length), dead: new Float64Array(us.length) };
  const share = (kind: SingularPlace['kind'], u: number): number => {
    poseOnTrace(top, s, trace, u, ws);
    return conditioning(top, s, system, driven, ws)[kind];
  };
  for (let k = 0; k < us.length; k++) {
    poseOnTrace(top, s, trace, us[k]!, ws);
    const rates = ratesOf(top, s, system, driven, ws);
    for (let j = 0; j < n; j++) {
      steepest[j] = Math.max(steepest[j]!, Math.abs(rates[j]!));
      trace.slope[k * n + j] = rates[j]! * (trace.to - trace.from);
    }
    const here = conditioning(top, s, system, driven, ws);
    shares.branch[k] = here.branch;
    shares.dead[k] = here.dead;
  }
  if (shares.dead.every((share) => share < LOOSE_SHARE))
    return { singular: [], loose: looseUnknown(top, s, system, ws), steepest };
  const singular: SingularPlace[] = [];
  for (const kind of ['branch', 'dead'] as const) {
    const values = shares[kind];
    for (let k = 0; k < us.length; k++) {
      const here = values[k]!;
      const before = values[k - 1] ?? 1;
      const after = values[k + 1] ?? 1;
      if (!(here < LOOK_CLOSER) || here > before || here >= after) continue;
      // A zero between knots is a kink, approached in a straight line: too far off for that, no need to search.
      const fall = Math.max(k > 0 ? before - here : 0, k + 1 < us.length ? after - here : 0);
      if (here - 2 * fall > SINGULAR_SHARE) continue;
      const place = least((u) => share(kind, u), us[Math.max(0, k - 1)]!, us[Math.min(us.length - 1, k + 1)]!);
      if (!(place.value < SINGULAR_SHARE)) continue;
      // A branch point is a dead point too; it is told once.
      if (kind === 'dead' && singular.some((other) => Math.abs(other.u - place.at) < 1e-3)) continue;
      singular.push({
        kind,
        u: place.at,
        value: trace.from + (trace.to - trace.from) * place.at,
        share: place.value,
      });
    }
  }
  return { singular: singular.sort((a, b) => a.u - b.u), loose: -1, steepest };
}

/** The unknown that moves most when nothing is driven. */
function looseUnknown(top: Chain, s: Posture, system: LoopSystem, ws: LinkageWorkspace): number {
  const n = system.unknowns.length;
  const { vectors } = columnSpectrum(unknownsJacobian(top, s, system, ws), 6 * system.cuts.length, n);
  const free = vectors.subarray((n - 1) * n);
  let most = 0;
  for (let c = 1; c < n; c++) if (Math.abs(free[c]!) > Math.abs(free[most]!)) most = c;
  return system.unknowns[most]!;
}

/** Golden section on a function with one minimum between `a` and `b`; ends included. */
function least(f: (u: number) => number, a: number, b: number): { at: number; value: number } {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let low = a;
  let high = b;
  let x = high - ratio * (high - low);
  let y = low + ratio * (high - low);
  let fx = f(x);
  let fy = f(y);
  for (let i = 0; i < 24; i++) {
    if (fx <= fy) {
      high = y;
      y = x;
      fy = fx;
      x = high - ratio * (high - low);
      fx = f(x);
    } else {
      low = x;
      x = y;
      fx = fy;
      y = low + ratio * (high - low);
      fy = f(y);
    }
  }
  const candidates = [a, b, (low + high) / 2].map((at) => ({ at, value: f(at) }));
  return candidates.reduce((best, c) => (c.value < best.value ? c : best));
}
