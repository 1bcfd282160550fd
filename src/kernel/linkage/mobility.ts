/**
 * How many independent motions a linkage has: by count, and by the rank of its constraints.
 *
 * Count: M = d (n − 1) − Σ (d − f_i), d = 6 in space (Kutzbach), 3 in a plane (Grübler 1883); the ground is one of the n
 * bodies; where k bodies meet at one pin count k − 1 joints. It looks at no dimensions and is wrong for over-constrained loops.
 * Rank: M = Σ f − rank of the loop screws at a posture. The rows of loop-system.ts at a closed posture span the same
 * equations with the cut joints' own rates eliminated, so M = free tree joints − rank of their derivative.
 * Finite: a null direction of the rank is only a first-order motion. Each is tried: a step along it, closed again by least
 * squares. At a dead position (three pivots in a line) the closure takes the step back; at a posture where motions branch it
 * lands on one branch. Finite mobility = what remains: the rank of the displacements that survive, and no more than the
 * first-order mobility at the postures reached.
 * Left out: joints that lock at a higher order than second, mechanisms whose branches have different mobility (the least
 * is given).
 */
import { type Chain, jointCount, type Posture, poseBodies, postureLike } from './chain.ts';
import { type ClosureOptions, closeLoops, unknownsJacobian } from './close-loops.ts';
import { measureJoint } from './joint-value.ts';
import { columnSpectrum, rankOf } from './least-squares.ts';
import { jointUnit, type LinkageWorkspace, type LoopSystem } from './loop-system.ts';

/**
 * Mobility by counting.
 * @param bodies number of bodies, ground included
 * @param freedoms freedoms of each joint (1 for pivot and slide)
 * @param space 6 in space (default), 3 for a planar linkage
 */
export const mobilityCount = (bodies: number, freedoms: readonly number[], space: 3 | 6 = 6): number =>
  space * (bodies - 1) - freedoms.reduce((sum, f) => sum + space - f, 0);

export interface Mobility {
  /** Null directions of the constraints at this posture. */
  readonly firstOrder: number;
  /** Motions that can really be done from here. Less than `firstOrder` at dead positions and branch points. */
  readonly finite: number;
  /** 1 per joint that takes part in one of these motions. */
  readonly moving: Uint8Array;
}

/**
 * Singular values below this share of the largest are zero: geometry typed to 0.001 mm over some 0.3 m is no better. An axis
 * of a Bennett loop displaced by 4 % of the link leaves 5e-3.
 */
export const RANK_SHARE = 1e-5;
/** Length of a trial step, rad (or ℓ): its square is well above rounding, its third power well below the step. */
const TRIAL_STEP = 0.05;
/**
 * What may stay open after a trial, in units of ℓ: geometry typed to 0.001 mm leaves 1e-7, and a dead position, open by the
 * square of the displacement, is drawn back to 1e-3 rad or less.
 */
const TRIAL_GAP = 2e-7;
/** Directions below the rank's threshold are not drawn back: there the closure would only undo rounded geometry. */
const TRIAL: ClosureOptions = { maxIterations: 80, leastDamping: RANK_SHARE * RANK_SHARE };
/** A displacement survives closure if this share of it is left; a dead position leaves about 0.01. */
const SURVIVES = 0.1;
/** Share of the trial step below which a joint stands still. */
const MOVES = 1e-3;

/**
 * Mobility at the closed posture `s.q` of the joints that `freedom` leaves (0 held, 1 free, 2 absent; see `FREEDOM`).
 * `s` is not changed.
 */
export function mobilityRank(top: Chain, s: Posture, freedom: Uint8Array, ws: LinkageWorkspace): Mobility {
  const n = jointCount(top);
  const here = postureLike(s);
  poseBodies(top, here);
  const system = wholeSystem(top, freedom);
  const { unknowns } = system;
  const count = unknowns.length;
  const moving = new Uint8Array(n);
  if (count === 0) return { firstOrder: 0, finite: 0, moving };
  const start = here.q.slice();
  const nulls = nullDirections(top, here, system, ws);
  const survivors: Float64Array[] = [];
  let least = nulls.length;
  for (let i = 0; i < nulls.length + (nulls.length > 1 ? 2 : 0); i++) {
    const direction = nulls[i] ?? mixture(nulls, i);
    here.q.set(start);
    for (let c = 0; c < count; c++)
      here.q[unknowns[c]!]! += TRIAL_STEP * direction[c]! * jointUnit(top, ws, unknowns[c]!);
    const { residual, reason } = closeLoops(top, here, system, ws, { ...TRIAL, target: TRIAL_GAP * ws.length });
    if (reason === 'opposed' || residual > TRIAL_GAP * ws.length) continue;
    const went = Float64Array.from(unknowns, (j) => (here.q[j]! - start[j]!) / TRIAL_STEP / jointUnit(top, ws, j));
    if (!(Math.sqrt(went.reduce((sum, v) => sum + v * v, 0)) > SURVIVES)) continue;
    survivors.push(went);
    least = Math.min(least, nullDirections(top, here, system, ws).length);
    unknowns.forEach((j, c) => {
      if (Math.abs(went[c]!) > MOVES) moving[j] = 1;
    });
    system.cuts.forEach((j, k) => {
      if (system.fixed[k] === 1) return;
      const change = measureJoint(top, here, j, start[j]!) - start[j]!;
      if (Math.abs(change) / jointUnit(top, ws, j) / TRIAL_STEP > MOVES) moving[j] = 1;
    });
  }
  const spread = new Float64Array(count * survivors.length);
  survivors.forEach((went, k) => {
    spread.set(went, k * count);
  });
  const kept = columnSpectrum(spread, count, survivors.length).values.filter((v) => v > SURVIVES).length;
  return { firstOrder: nulls.length, finite: Math.min(kept, least), moving };
}

/** All free tree joints against all cuts that are there. */
function wholeSystem(top: Chain, freedom: Uint8Array): LoopSystem {
  const cut = new Uint8Array(jointCount(top));
  for (const j of top.cuts) cut[j] = 1;
  const cuts = top.cuts.filter((j) => freedom[j] !== 2);
  return {
    unknowns: Int32Array.from(Array.from(cut.keys()).filter((j) => cut[j] === 0 && freedom[j] === 1)),
    cuts,
    fixed: Uint8Array.from(cuts, (j) => (freedom[j] === 0 ? 1 : 0)),
  };
}

/** Orthonormal null directions of the closure rows by the unknowns, at `s.bodyT`. */
function nullDirections(top: Chain, s: Posture, system: LoopSystem, ws: LinkageWorkspace): Float64Array[] {
  const n = system.unknowns.length;
  const { values, vectors } = columnSpectrum(unknownsJacobian(top, s, system, ws), 6 * system.cuts.length, n);
  const rank = rankOf(values, RANK_SHARE);
  return Array.from({ length: n - rank }, (_, k) => vectors.slice((rank + k) * n, (rank + k + 1) * n));
}

/** A fixed mixture of the null directions, of length 1: motions that no single one shows. */
function mixture(nulls: readonly Float64Array[], i: number): Float64Array {
  const out = new Float64Array(nulls[0]!.length);
  nulls.forEach((direction, k) => {
    const weight = Math.cos(1 + 2.4 * (i + 1) * (k + 1));
    for (let c = 0; c < out.length; c++) out[c]! += weight * direction[c]!;
  });
  const length = Math.sqrt(out.reduce((sum, v) => sum + v * v, 0));
  return out.map((v) => v / length);
}
