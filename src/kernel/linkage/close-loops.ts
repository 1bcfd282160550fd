/**
 * Closing loops: Levenberg–Marquardt from the posture at hand.
 *
 * Method: damped steps with λ = μ|r|² (Yamashita & Fukushima 2001: still quadratic where solutions are not isolated, as in a
 * loop with freedom to spare), μ up on a failed step and down on a good one; Marquardt 1963. The posture at hand is the
 * warm start, so the branch is kept as long as steps are small; trace-loop.ts keeps them small.
 * How it can end: `closed` below `target`; `nearly closed` where the least residual is above that, but within `accept` and
 * the followers are well conditioned (figures typed with few digits do not close to rounding); `stuck apart` where the
 * least residual is larger: this posture does not exist. Past a dead point the least gap grows from zero too, but there the
 * followers are singular: it counts as apart.
 * Not here: choosing the next posture of a motion.
 */
import { type Chain, type Posture, poseBodies } from './chain.ts';
import { columnSpectrum, dampedStep } from './least-squares.ts';
import {
  type ClosureReport,
  closureColumn,
  closureResidual,
  jointUnit,
  LINK_LENGTH_M,
  type LinkageWorkspace,
  type LoopSystem,
  opposed,
} from './loop-system.ts';

/** Closed: the residual of a metre-sized posture in doubles is some 1e-16 m; 1e-13 m leaves room for long chains. */
const TARGET_M = 1e-13;
/** A gap of 0.01 mm: ten times below what a project file may leave at a joint. Both grow with the workspace's length. */
const ACCEPT_M = 1e-5;
/** Followers below this share of the largest singular value are at a dead point. */
const DEAD_SHARE = 1e-3;
/** No more than 0.5 rad (or 0.5 ℓ) in one step: a longer one lands on another branch. */
const LONGEST_STEP = 0.5;

export interface ClosureOptions {
  readonly maxIterations: number;
  /** Least λ as a share of the largest squared entry: directions below its root are left where they are. */
  readonly leastDamping: number;
  /** Residual that counts as closed, m; 1e-13 (more for mechanisms larger than ℓ = 0.3 m) where not given. */
  readonly target?: number;
  /** Goes on to the rounding floor (two or three more iterations), where the answer no longer depends on the start. */
  readonly sharpest?: boolean;
}
const ORDINARY: ClosureOptions = { maxIterations: 40, leastDamping: 1e-16 };
/** To the rounding floor, with patience: for single answers. */
export const SHARPEST: ClosureOptions = { maxIterations: 100, leastDamping: 1e-16, sharpest: true };

/**
 * Moves the unknowns of `system` in `s.q` until its cuts close, and writes `s.bodyT`. Driven and held joints keep the
 * values in `s.q`. Returns `ws.report`. Residual in m; see `ClosureReport`.
 */
export function closeLoops(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  ws: LinkageWorkspace,
  options: ClosureOptions = ORDINARY,
): ClosureReport {
  const { unknowns } = system;
  const m = 6 * system.cuts.length;
  const n = unknowns.length;
  const { q } = s;
  const { jacobian, step, saved, report } = ws;
  const { maxIterations, leastDamping } = options;
  const target = options.target ?? TARGET_M * Math.max(1, ws.length / LINK_LENGTH_M);
  poseBodies(top, s);
  let residual = closureResidual(top, s, system, ws);
  let mu = 1;
  let iterations = 0;
  const leastGain = options.sharpest ? 1e-12 : 1e-6;
  const enough = options.sharpest ? 0 : target;
  let stalled = n === 0;
  while (!(residual <= enough) && !stalled && iterations < maxIterations) {
    iterations++;
    for (let c = 0; c < n; c++) writeUnknown(top, s, system, ws, c, m);
    let largest = 0;
    for (let i = 0; i < m * n; i++) largest = Math.max(largest, Math.abs(jacobian[i]!));
    const scale = largest * largest;
    let better = false;
    for (let attempt = 0; attempt < 8 && !better; attempt++) {
      const share = residual / ws.length;
      dampedStep(jacobian, m, n, ws.residual, scale * Math.max(mu * share * share, leastDamping), step, ws.scratch);
      let longest = 0;
      for (let c = 0; c < n; c++) longest = Math.max(longest, Math.abs(step[c]!));
      const shorten = longest > LONGEST_STEP ? LONGEST_STEP / longest : 1;
      for (let c = 0; c < n; c++) {
        const j = unknowns[c]!;
        saved[c] = q[j]!;
        q[j] = q[j]! + step[c]! * shorten * jointUnit(top, ws, j);
      }
      poseBodies(top, s);
      const next = closureResidual(top, s, system, ws, ws.trial);
      if (next < residual) {
        // Smaller gains are the least residual, or rounding: nothing more to find.
        stalled = next > residual * (1 - leastGain);
        better = true;
        mu = Math.max(mu / 8, 1e-6);
        residual = next;
        for (let i = 0; i < m; i++) ws.residual[i] = ws.trial[i]!;
      } else {
        for (let c = 0; c < n; c++) q[unknowns[c]!] = saved[c]!;
        mu = Math.min(mu * 10, 1e8);
      }
    }
    if (!better) {
      poseBodies(top, s);
      stalled = true;
    }
  }
  report.iterations = iterations;
  report.residual = residual;
  if (residual <= target) report.reason = 'closed';
  else if (residual <= ACCEPT_M * (ws.length / LINK_LENGTH_M) && wellConditioned(top, s, system, ws))
    report.reason = 'nearly closed';
  else report.reason = stalled ? 'stuck apart' : 'out of iterations';
  report.converged = report.reason === 'closed' || report.reason === 'nearly closed';
  if (report.converged && m > 0 && opposed(top, s, system)) {
    report.converged = false;
    report.reason = 'opposed';
  }
  return report;
}

/** Column `c` of the Jacobian of the unknowns, in comparable units, at `s.bodyT`. */
function writeUnknown(top: Chain, s: Posture, system: LoopSystem, ws: LinkageWorkspace, c: number, m: number): void {
  const j = system.unknowns[c]!;
  closureColumn(top, s, system, ws, j, ws.jacobian, c * m);
  const unit = jointUnit(top, ws, j);
  if (unit !== 1) for (let i = c * m; i < (c + 1) * m; i++) ws.jacobian[i]! *= unit;
}

/** The Jacobian of the unknowns (6·cuts × unknowns, column-major, slides in units of ℓ) at `s.bodyT`, in `ws.jacobian`. */
export function unknownsJacobian(top: Chain, s: Posture, system: LoopSystem, ws: LinkageWorkspace): Float64Array {
  for (let c = 0; c < system.unknowns.length; c++) writeUnknown(top, s, system, ws, c, 6 * system.cuts.length);
  return ws.jacobian;
}

function wellConditioned(top: Chain, s: Posture, system: LoopSystem, ws: LinkageWorkspace): boolean {
  const n = system.unknowns.length;
  if (n === 0) return true;
  const { values } = columnSpectrum(unknownsJacobian(top, s, system, ws), 6 * system.cuts.length, n);
  return values[n - 1]! > DEAD_SHARE * values[0]!;
}
