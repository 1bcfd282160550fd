/**
 * One rider for every bicycle, in a lane change.
 *
 * The rider is an optimal one: sees the path ahead, and steers so that Σ ((y − path)/Y)² + (T_c/T)² is least, T_c being
 * the commanded steer torque. Aim, patience (Y, T) and muscles are the same for every bicycle; the gains are what this
 * rider would settle on after some practice with each. That is the point: a fixed set of gains that holds up one bicycle
 * lets another fall and says nothing about either, whereas the optimal rider stabilises every bicycle that steer torque
 * can stabilise, with one rule, at any speed. Loops closed one by one, with gains tuned by crossover (Hess, Moore &
 * Hubbard 2012), were weighed against it: they describe measured riders better, but at low speed the tuning rule has no
 * solution for some bicycles, which would leave the comparison empty where it matters most.
 *
 * Muscles: T = ω²/(s² + 2ζω s + ω²) T_c, ω = 30 rad/s, ζ = 0.707 (Hess, Moore & Hubbard 2012, IEEE Trans. SMC-A
 * 42:545–557). Optimal riders for bicycles with preview: R. S. Sharp 2008, Proc. IMechE C 222:415–428 (from memory).
 * Plant: the Carvallo–Whipple bicycle (whipple.ts) with heading and path of the rear contact (right positive):
 *   ψ̇ = (v δ + c δ̇) cos λ/w,  ẏ = v ψ.
 * Time-discrete at 50 Hz with held command; solution by riccati.ts and a backward sweep of the costate (linear-quadratic
 * tracking of a path known in advance, see Anderson & Moore, Optimal Control).
 * Manoeuvre: 2 m to the right (the width of Hess et al.) within 3 s at every speed, fifth-degree blend.
 * Limits: linear; the rider leans with the frame and has no other means than steer torque. Y and T: own choice. The
 * benchmark bicycle then peaks at 0.4–0.8 N·m between 3 and 7 m/s, where riders in 2 m lane changes were measured up to
 * 2.9 N·m (Moore 2012): this rider knows the path, meets no disturbance and wastes nothing. Read the figures side by
 * side, not as forecasts.
 * Not here: a rider identified from measurements, remnant noise, limits of reach.
 */
import { exponential, largest } from './dense.ts';
import { insist } from './refusal.ts';
import { regulator } from './riccati.ts';
import { accelerationRows, inverseMass, type WhippleSystem } from './whipple.ts';

export interface LaneRider {
  /** Path error (m) and commanded torque (N·m) that the rider minds equally. */
  readonly pathError: number;
  readonly torque: number;
  /** Muscle frequency (rad/s) and damping ratio. */
  readonly muscle: number;
  readonly damping: number;
}
// biome-ignore lint/suspicious/noApproximativeNumericConstant: the published damping ratio, not a half root of two
export const LANE_RIDER: LaneRider = { pathError: 0.1, torque: 2, muscle: 30, damping: 0.707 };
/** Step (s), steps in all, start and length of the change (s), width (m). */
export const LANE = { step: 0.02, steps: 450, start: 3, duration: 3, width: 2 } as const;

export interface LaneChange {
  readonly speed: number;
  /** False when the rider cannot hold this bicycle up; the figures are then NaN and the histories empty. */
  readonly stabilised: boolean;
  /** How the rider's gains were found. */
  readonly solution: {
    readonly converged: boolean;
    readonly iterations: number;
    readonly residual: number;
    readonly reason: string;
  };
  /** Largest sizes over the manoeuvre: N·m, rad, rad/s, rad, rad/s. */
  readonly peakTorque: number;
  readonly peakSteer: number;
  readonly peakSteerRate: number;
  readonly peakLean: number;
  readonly peakRollRate: number;
  /** Root mean squares over the manoeuvre: path error (m), steer torque (N·m). */
  readonly pathError: number;
  readonly rmsTorque: number;
  /** One value per step: steer torque (N·m), lean (rad), steer (rad), path (m). */
  readonly torque: Float64Array;
  readonly lean: Float64Array;
  readonly steer: Float64Array;
  readonly path: Float64Array;
}

/** State order: φ, δ, φ̇, δ̇, ψ, y, T, Ṫ/ω. */
const N = 8;
const PATH = 5;

/** 0 → 1 with no velocity or acceleration at the ends. */
function blend(s: number): number {
  if (s <= 0) return 0;
  if (s >= 1) return 1;
  return s * s * s * (10 - 15 * s + 6 * s * s);
}

/** The path (m to the right) at a time (s). */
export const lanePath = (time: number): number => LANE.width * blend((time - LANE.start) / LANE.duration);

/** A (8 × 8) and B (8) of one step with held command. */
function stepMatrices(system: WhippleSystem, speed: number, rider: LaneRider): { A: Float64Array; B: Float64Array } {
  const n = N + 1;
  const rows = accelerationRows(system, speed);
  const [, n12, , n22] = inverseMass(system);
  const turn = Math.cos(system.lambda) / system.w;
  const f = new Float64Array(n * n);
  const set = (i: number, j: number, x: number): void => {
    f[i * n + j] = x * LANE.step;
  };
  set(0, 2, 1);
  set(1, 3, 1);
  for (let j = 0; j < 4; j++) {
    set(2, j, rows[j]!);
    set(3, j, rows[4 + j]!);
  }
  set(2, 6, n12);
  set(3, 6, n22);
  set(4, 1, speed * turn);
  set(4, 3, system.c * turn);
  set(5, 4, speed);
  set(6, 7, rider.muscle);
  set(7, 6, -rider.muscle);
  set(7, 7, -2 * rider.damping * rider.muscle);
  set(7, 8, rider.muscle);
  const e = exponential(n, f);
  const A = new Float64Array(N * N);
  const B = new Float64Array(N);
  for (let i = 0; i < N; i++) {
    for (let j = 0; j < N; j++) A[i * N + j] = e[i * n + j]!;
    B[i] = e[i * n + N]!;
  }
  return { A, B };
}

/**
 * The lane change of one bicycle at one speed (m/s, above 0).
 * @throws SteerRefusal for a speed not above 0: a standing bicycle has no path.
 */
export function laneChange(system: WhippleSystem, speed: number, rider: LaneRider = LANE_RIDER): LaneChange {
  insist(speed > 0 && speed < Infinity, 'speed', `a lane change needs a speed above 0, got ${speed} m/s`);
  const { A, B } = stepMatrices(system, speed, rider);
  const q = 1 / (rider.pathError * rider.pathError);
  const Q = new Float64Array(N * N);
  Q[PATH * N + PATH] = q;
  const { K, toCostate, converged, iterations, residual, reason } = regulator(
    N,
    A,
    B,
    Q,
    1 / (rider.torque * rider.torque),
  );
  const solution = { converged, iterations, residual, reason };
  const nothing = new Float64Array(0);
  if (!converged)
    return {
      speed,
      stabilised: false,
      solution,
      peakTorque: NaN,
      peakSteer: NaN,
      peakSteerRate: NaN,
      peakLean: NaN,
      peakRollRate: NaN,
      pathError: NaN,
      rmsTorque: NaN,
      torque: nothing,
      lean: nothing,
      steer: nothing,
      path: nothing,
    };
  const C = new Float64Array(N * N); // closed loop A − B K
  for (let i = 0; i < N; i++) for (let j = 0; j < N; j++) C[i * N + j] = A[i * N + j]! - B[i]! * K[j]!;

  // Backwards: costate λ_k = Cᵀ λ_{k+1} + Q r_k, of which only its effect on the command is kept. The path is held
  // beyond the end for as long again, so that the end of the simulation casts no shadow on it.
  const { step, steps } = LANE;
  const ahead = new Float64Array(steps);
  let lambda = new Float64Array(N);
  let next = new Float64Array(N);
  for (let k = 2 * steps; k >= 1; k--) {
    for (let j = 0; j < N; j++) {
      let sum = 0;
      for (let i = 0; i < N; i++) sum += C[i * N + j]! * lambda[i]!;
      next[j] = sum;
    }
    next[PATH]! += q * lanePath(k * step);
    [lambda, next] = [next, lambda];
    if (k <= steps) {
      let u = 0;
      for (let i = 0; i < N; i++) u += toCostate[i]! * lambda[i]!;
      ahead[k - 1] = u;
    }
  }

  const torque = new Float64Array(steps);
  const lean = new Float64Array(steps);
  const steer = new Float64Array(steps);
  const path = new Float64Array(steps);
  let x = new Float64Array(N);
  let y = new Float64Array(N);
  let peakSteerRate = 0;
  let peakRollRate = 0;
  let missed = 0;
  let worked = 0;
  for (let k = 0; k < steps; k++) {
    lean[k] = x[0]!;
    steer[k] = x[1]!;
    path[k] = x[PATH]!;
    torque[k] = x[6]!;
    peakRollRate = Math.max(peakRollRate, Math.abs(x[2]!));
    peakSteerRate = Math.max(peakSteerRate, Math.abs(x[3]!));
    const e = x[PATH]! - lanePath(k * step);
    missed += e * e;
    worked += x[6]! * x[6]!;
    for (let i = 0; i < N; i++) {
      let sum = B[i]! * ahead[k]!;
      for (let j = 0; j < N; j++) sum += C[i * N + j]! * x[j]!;
      y[i] = sum;
    }
    [x, y] = [y, x];
  }
  return {
    speed,
    stabilised: true,
    solution,
    peakTorque: largest(torque),
    peakSteer: largest(steer),
    peakSteerRate,
    peakLean: largest(lean),
    peakRollRate,
    pathError: Math.sqrt(missed / steps),
    rmsTorque: Math.sqrt(worked / steps),
    torque,
    lean,
    steer,
    path,
  };
}
