/**
 * How fast the followers of a loop move with the driven joint, and how near the posture is to one where that is undefined.
 *
 * Differentiating the closure rows: J_f q̇_f + J_d q̇_d = 0. Two singular values of the geometry tell what a designer must
 * know (Gosselin & Angeles 1990, IEEE Trans. Robotics and Automation 6(3)):
 *   σ_f, the least of J_f: at 0 the driven joint is at a dead point, it cannot go on and the followers may go either way;
 *   σ_2, the second least of [J_f J_d] (the least is the motion itself): at 0 motions branch, "may flip here".
 * Both are given as shares of the largest singular value, so they do not depend on the size of the bicycle.
 */
import type { Chain, Posture } from './chain.ts';
import { unknownsJacobian } from './close-loops.ts';
import { columnSpectrum, dampedStep } from './least-squares.ts';
import { closureColumn, heldValueColumn, jointUnit, type LinkageWorkspace, type LoopSystem } from './loop-system.ts';

/** The rows' derivative by the driven joint (tree or cut), own units, in `ws.column`. */
export function drivenColumn(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  ws: LinkageWorkspace,
): Float64Array {
  if (top.cuts.includes(driven)) heldValueColumn(top, s, system, ws, driven, ws.column, 0);
  else closureColumn(top, s, system, ws, driven, ws.column, 0);
  return ws.column;
}

/** Damping of the rates relative to the largest entry squared: shifts them by 1e-14/σ_f², nothing away from dead points. */
const RATE_DAMPING = 1e-14;

/**
 * Writes dq/dq_driven of every joint at the posture in `s` (q and bodyT) into `ws.rates` (1 for the driven one, 0 for joints
 * that stay, rad or m per rad or m) and returns it. At a dead point the rates are large, not infinite.
 */
export function ratesOf(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  ws: LinkageWorkspace,
): Float64Array {
  ws.rates.fill(0);
  ws.rates[driven] = 1;
  const n = system.unknowns.length;
  if (n === 0 || system.cuts.length === 0) return ws.rates;
  const m = 6 * system.cuts.length;
  const j = unknownsJacobian(top, s, system, ws);
  drivenColumn(top, s, system, driven, ws);
  let largest = 0;
  for (let i = 0; i < m * n; i++) largest = Math.max(largest, Math.abs(j[i]!));
  dampedStep(j, m, n, ws.column, RATE_DAMPING * largest * largest, ws.step, ws.scratch);
  for (let c = 0; c < n; c++) ws.rates[system.unknowns[c]!] = ws.step[c]! * jointUnit(top, ws, system.unknowns[c]!);
  return ws.rates;
}

export interface Conditioning {
  /** σ_2 as a share of the largest: near 0 motions branch here. */
  readonly branch: number;
  /** σ_f as a share of the largest: near 0 the driven joint is at a dead point. */
  readonly dead: number;
}

/** Both shares at the posture in `s.bodyT`. Allocates: for knots and warnings, not for hot loops. */
export function conditioning(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  driven: number,
  ws: LinkageWorkspace,
): Conditioning {
  const n = system.unknowns.length;
  const m = 6 * system.cuts.length;
  if (n === 0 || m === 0) return { branch: 1, dead: 1 };
  const j = unknownsJacobian(top, s, system, ws);
  const f = columnSpectrum(j, m, n).values;
  const column = drivenColumn(top, s, system, driven, ws);
  const unit = jointUnit(top, ws, driven);
  for (let i = 0; i < m; i++) j[n * m + i] = column[i]! * unit;
  const all = columnSpectrum(j, m, n + 1).values;
  return { branch: all[n - 1]! / all[0]!, dead: f[n - 1]! / f[0]! };
}
