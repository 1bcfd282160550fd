/**
 * Linear buckling: the least positive factor λ by which a load vector makes K + λ KG singular.
 *
 * Method: members under compression are cut into elements short enough for the mode (first two a piece, then by
 * l √(λN/EI) ≤ π/4, π/8, …), until λ changes by less than a tenth of what is asked. For each mesh the number of negative pivots of
 * LDLᵀ(K + λ KG) counts the factors below λ (Sylvester; Golub & Van Loan, 4th ed., 8.1.5): a bracket by doubling, inverse
 * iteration with Rayleigh's quotient inside it, and a count just below and above the result, which is a proof that none
 * was missed. Forces come from the linear solution; joints as they are.
 * Not here: lateral–torsional buckling by bending, post-buckling, local buckling of walls (section/).
 */
import type { FrameStructure, LoadGroup } from '../structure.ts';
import { activeJoints } from './active.ts';
import { frameNumbers } from './assembly.ts';
import { backward, forward } from './block-ldl.ts';
import { pieceFrame } from './member-flexibility.ts';
import { type RefinedStructure, refineStructure } from './refine.ts';
import { frameSolver } from './solver.ts';
import { factoriseAt, panelTimes, setState, type Tangent, takeState, tangentOf } from './tangent.ts';

export interface BucklingOptions {
  /** Relative accuracy of the factor (default 1e-3, by subdivision). */
  readonly accuracy?: number;
  /** Only a factor below this is of interest: where there is none the result is Infinity, at the cost of one factorisation. */
  readonly below?: number;
}

export interface BucklingResult {
  /** Infinity when nothing that is compressed can buckle. */
  readonly factor: number;
  /** 6 per node of the given structure, largest translation 1 (all 0 without a mode). */
  readonly mode: Float64Array;
  /** Index of the member whose bending in the mode stores most energy per its own; −1 without a mode. */
  readonly member: number;
  readonly elements: number;
  readonly converged: boolean;
  /** Factorisations. */
  readonly iterations: number;
  /** Relative change of the factor by the last subdivision. */
  readonly residual: number;
  readonly reason: string;
}

/** A member whose compression is below this share of the largest force takes no part. */
const COMPRESSED = 1e-9;
/** Relative width of the final count around the factor. */
const PROOF = 1e-5;
/** The first mesh finds factors too high, by 1.3 % at most for two elements between held ends (pinned: 0.75 %, clamped: 1.3 %). */
const COARSE = 1.02;
const MOST_LEVELS = 6;
const MOST_STEPS = 60;

/** @throws Mechanism and RangeError as the linear solution does. */
export function frameBuckling(
  structure: FrameStructure,
  group: LoadGroup,
  load: number,
  options: BucklingOptions = {},
): BucklingResult {
  const accuracy = options.accuracy ?? 1e-3;
  const one: LoadGroup = { ...group, loads: [group.loads[load] ?? []] };
  let iterations = 0;
  let lambda = Infinity;
  let change = NaN;
  // Axial force of every piece, from the structure as it is: exact, because loads act on nodes only.
  const plain = refineStructure(structure, () => 1);
  const first = solveState(plain, one);
  let largest = 0;
  for (const e of first.end) if (Math.abs(e) > largest) largest = Math.abs(e);
  // No factor is sought where even the least loaded member would be squeezed to nothing: the method means nothing there.
  let most = 0;
  const elementOf = plain.structure.members;
  first.tangent.axial.forEach((n, i) => {
    const { E, section } = elementOf[i]!.pieces[0]!;
    if (Math.abs(n) > COMPRESSED * largest) most = Math.max(most, (E * section.area) / Math.abs(n));
  });
  const arms = first.tangent.arms.some((a) => Math.abs(a) > COMPRESSED * largest);
  if (!arms && !first.tangent.axial.some((n) => n < -COMPRESSED * largest))
    return {
      factor: Infinity,
      ...none(structure),
      elements: elementOf.length,
      iterations,
      converged: true,
      residual: 0,
      reason: 'nothing is compressed',
    };
  const compressed = (m: number, k: number): number => {
    const n = first.tangent.axial[plain.first[m]! + k]!;
    return n < -COMPRESSED * largest ? -n : 0;
  };
  const angle = (m: number, k: number, factor: number): number => {
    const piece = structure.members[m]!.pieces[k]!;
    const s = piece.at ? piece.at(0.5) : piece.section;
    return (
      pieceFrame(structure.members[m]!, k).length *
      Math.sqrt((factor * compressed(m, k)) / (piece.E * Math.min(s.iy, s.iz)))
    );
  };
  let found: Mode | undefined;
  let elements = 0;
  for (let level = 0; level < MOST_LEVELS; level++) {
    const step = Math.PI / 4 / (1 << level);
    const before = lambda;
    const cuts = (m: number, k: number): number => {
      if (compressed(m, k) === 0) return 1;
      // Without a factor yet: the piece's own, held at both ends, is the most that its nodes can hide.
      const turn = Math.min(before === Infinity ? 2 * Math.PI : angle(m, k, before), 2 * Math.PI);
      return Math.max(level === 0 ? 2 : 1, Math.ceil(turn / (level === 0 ? Math.PI : step) - 1e-9));
    };
    const refined = refineStructure(structure, cuts);
    const numbers = frameNumbers(refined.structure);
    const tangent = tangentOf(numbers, one, activeJoints(numbers, one.fixtures));
    takeState(tangent, first.tangent, (i) => plain.first[refined.member[i]!]! + refined.piece[i]!);
    elements = tangent.axial.length;
    if (level === 0 && options.below !== undefined) {
      iterations++;
      if (factoriseAt(tangent, options.below * COARSE) === 0)
        return {
          factor: Infinity,
          ...none(structure),
          elements,
          iterations,
          converged: true,
          residual: 0,
          reason: `no factor below ${options.below.toPrecision(4)}`,
        };
    }
    const at = leastFactor(tangent, before === Infinity ? 0 : before, most);
    iterations += at.iterations;
    if (!at.converged)
      return {
        ...none(structure),
        factor: at.factor,
        elements,
        iterations,
        converged: false,
        residual: NaN,
        reason: at.reason,
      };
    lambda = at.factor;
    found = at.mode ? modeOf(tangent, refined, at.mode, structure) : undefined;
    if (lambda === Infinity) {
      // Two elements a piece bound the factor from above by a few per cent: no factor now means none.
      return {
        ...none(structure),
        factor: Infinity,
        elements,
        iterations,
        converged: true,
        residual: 0,
        reason: at.reason,
      };
    }
    change = Math.abs(before / lambda - 1);
    if (change < accuracy / 10)
      return { factor: lambda, ...found!, elements, iterations, converged: true, residual: change, reason: 'settled' };
  }
  return {
    factor: lambda,
    ...(found ?? none(structure)),
    elements,
    iterations,
    converged: false,
    residual: change,
    reason: 'subdivision did not settle',
  };
}

interface Mode {
  readonly mode: Float64Array;
  readonly member: number;
}
const none = (s: FrameStructure): Mode => ({ mode: new Float64Array(6 * s.nodes.length), member: -1 });

/** Linear solution of a refined structure under its one load vector, and the tangent of that state. */
function solveState(refined: RefinedStructure, one: LoadGroup): { tangent: Tangent; end: Float64Array } {
  const solver = frameSolver(refined.structure, [one]);
  const [solution] = solver.solve(one);
  const tangent = tangentOf(solver.numbers, one, activeJoints(solver.numbers, one.fixtures));
  setState(tangent, solution!.end, solution!.joint, one.loads[0]!);
  return { tangent, end: solution!.end };
}

interface Least {
  readonly factor: number;
  readonly mode: Float64Array | undefined;
  readonly converged: boolean;
  readonly iterations: number;
  readonly reason: string;
}

/** @param near a factor of a coarser mesh, 0 when there is none. */
function leastFactor(t: Tangent, near: number, most: number): Least {
  let iterations = 0;
  /** Number of factors in (0, λ); an exact hit is stepped over. */
  const below = (lambda: number): number => {
    for (let nudge = 0; nudge < 3; nudge++) {
      iterations++;
      const count = factoriseAt(t, lambda * (1 + nudge * 1e-9));
      if (!Number.isNaN(count)) return count;
    }
    return NaN;
  };
  let low = 0;
  let high = near > 0 ? near * 1.001 : 1;
  if (near > 0 && below(near * 0.97) === 0) low = near * 0.97;
  while (below(high) === 0) {
    low = high;
    high *= near > 0 && high < 2 * near ? 1.05 : 4;
    if (low > most)
      return {
        factor: Infinity,
        mode: undefined,
        converged: true,
        iterations,
        reason: `no factor below ${most.toPrecision(3)}`,
      };
  }
  if (low === 0) {
    // The factor is below the first guess: come down to where none is left.
    low = high / 4;
    while (below(low) !== 0) {
      high = low;
      low /= 4;
      if (iterations > 200 || low < 1e-300)
        return {
          factor: NaN,
          mode: undefined,
          converged: false,
          iterations,
          reason: 'no factor without a mode below it',
        };
    }
  }
  const n = t.held.length;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) x[i] = t.held[i] ? 0 : Math.sin(1 + 7.3 * i); // any vector with all modes in it
  let lambda = NaN;
  for (let step = 0; step < MOST_STEPS; step++) {
    // Into the lower half of the bracket, so that the shift is nearer to the least factor than to any negative one.
    if (high / low > 1.25) {
      const middle = Math.sqrt(low * high);
      if (below(middle) === 0) low = middle;
      else high = middle;
      continue;
    }
    below(low);
    for (let i = 0; i < 12; i++) {
      panelTimes(t.factor, t.KG, x, y);
      for (let j = 0; j < n; j++) y[j] = t.held[j] ? 0 : -y[j]!;
      forward(t.factor, y);
      backward(t.factor, y);
      let size = 0;
      for (let j = 0; j < n; j++) size = Math.max(size, Math.abs(y[j]!));
      if (!(size > 0 && size < Infinity)) break;
      for (let j = 0; j < n; j++) x[j] = y[j]! / size;
      const old = lambda;
      lambda = quotient(t, x, y);
      if (Math.abs(old / lambda - 1) < PROOF / 100) break;
    }
    if (
      lambda > low &&
      lambda < high * (1 + PROOF) &&
      below(lambda * (1 - PROOF)) === 0 &&
      below(lambda * (1 + PROOF)) > 0
    )
      return { factor: lambda, mode: x, converged: true, iterations, reason: 'counted' };
    // Not the least one, or too near to its neighbour: halve the bracket and go on.
    const middle = (low + high) / 2;
    if (below(middle) === 0) low = middle;
    else high = middle;
    if (high / low - 1 < PROOF / 10) return { factor: high, mode: x, converged: true, iterations, reason: 'bisected' };
  }
  return { factor: lambda, mode: x, converged: false, iterations, reason: 'inverse iteration did not settle' };
}

/** −xᵀKx / xᵀKG x. */
function quotient(t: Tangent, x: Float64Array, y: Float64Array): number {
  let k = 0;
  let g = 0;
  panelTimes(t.factor, t.K, x, y);
  for (let i = 0; i < x.length; i++) k += x[i]! * y[i]!;
  panelTimes(t.factor, t.KG, x, y);
  for (let i = 0; i < x.length; i++) g += x[i]! * y[i]!;
  return -k / g;
}

function modeOf(t: Tangent, refined: RefinedStructure, x: Float64Array, s: FrameStructure): Mode {
  const { place } = t.factor.pattern;
  const u = new Float64Array(x.length);
  let largest = 0;
  for (let n = 0; n < refined.structure.nodes.length; n++)
    for (let c = 0; c < 6; c++) {
      u[6 * n + c] = x[6 * place[n]! + c]!;
      if (c < 3) largest = Math.max(largest, Math.abs(u[6 * n + c]!));
    }
  // The member on which the geometric stiffness does most work against the structure is the one that gives way.
  let member = -1;
  let worst = 0;
  for (let m = 0; m < s.members.length; m++) {
    let work = 0;
    for (let e = refined.first[m]!; e < refined.first[m + 1]!; e++) {
      const { from, to } = refined.structure.members[e]!;
      const at = (i: number): number => u[i < 6 ? 6 * from + i : 6 * to + i - 6]!;
      for (let i = 0; i < 12; i++)
        for (let j = 0; j < 12; j++) work -= t.axial[e]! * at(i) * t.unit[144 * e + 12 * i + j]! * at(j);
    }
    if (work > worst) {
      worst = work;
      member = m;
    }
  }
  const mode = new Float64Array(6 * s.nodes.length);
  for (let i = 0; i < mode.length; i++) mode[i] = largest > 0 ? u[i]! / largest : 0;
  return { mode, member };
}
