/**
 * One load case on one frame: the worst stress against the yield strength, and the worst stress range against its detail.
 *
 * Static use = von Mises stress over the yield strength that counts at the place (weakened beside a weld), or over the ultimate
 * strength for states that may bend but not break it. It is a closed-form
 * bound that lets the largest normal and the largest shear stress meet; the sheet shows the exact worst point.
 * Fatigue: for every kind of cycle of the case, the greatest range of stress between any two of its states, nominal or
 * hot-spot as the detail asks, against the range that the detail's curve allows at the cycles of the test. The reserve
 * ranks; it promises nothing.
 * Units: mm, N, MPa. Not here: joints' openings, buckling, blows by energy.
 */
import type { CaseLoads, FrameCase } from '../cases/index.ts';
import { UNLOADED } from '../cases/index.ts';
import { hotSpotRange, type NominalStress, rangeAtCycles } from '../fatigue/index.ts';
import { bendingStress, stressBound, worstRange } from '../section/index.ts';
import type { FrameSolution } from '../structure.ts';
import { pointForces, type StressPoints } from './points.ts';

export interface WorstUse {
  /** Stress over strength; 0 where nothing is loaded. */
  readonly use: number;
  /** Index of the stress point, and of the load vector; −1 where there is none. */
  readonly point: number;
  readonly state: number;
  readonly stress: number;
}
export interface WorstRange {
  /** Allowed over computed range; Infinity where nothing swings. */
  readonly reserve: number;
  readonly point: number;
  readonly range: number;
  readonly allowed: number;
  readonly cycles: number;
  /** Which kind of cycle. */
  readonly label: string;
}
export interface CaseResult {
  readonly frameCase: FrameCase;
  readonly loads: CaseLoads;
  readonly solutions: readonly FrameSolution[];
  readonly worst: WorstUse;
  readonly useOfTube: Float64Array;
  /** Undefined for a case that is no fatigue test: what service does adds up in the spectrum of use. */
  readonly fatigue: WorstRange | undefined;
  readonly reserveOfTube: Float64Array | undefined;
  /** 6 per point and load vector, vector after vector: [N, Vy, Vz, T, My, Mz]. */
  readonly forces: Float64Array;
}

/** @param tubes number of tubes of the frame. */
export function evaluateCase(
  frameCase: FrameCase,
  loads: CaseLoads,
  solutions: readonly FrameSolution[],
  set: StressPoints,
  tubes: number,
): CaseResult {
  const { points } = set;
  const n = 6 * points.length;
  const forces = new Float64Array(n * solutions.length);
  const useOfTube = new Float64Array(tubes);
  let worst: WorstUse = { use: 0, point: -1, state: -1, stress: 0 };
  for (let v = 0; v < solutions.length; v++) {
    pointForces(set, solutions[v]!.end, forces.subarray(v * n, (v + 1) * n));
    const breaking = loads.fracture?.includes(v) ?? false;
    for (let i = 0; i < points.length; i++) {
      const p = points[i]!;
      const stress = stressBound(p.section, forces, v * n + 6 * i);
      const use = stress / (breaking ? p.ultimate : p.strength);
      if (use > useOfTube[p.tube]!) useOfTube[p.tube] = use;
      if (use > worst.use) worst = { use, point: i, state: v, stress };
    }
  }
  const ranged =
    frameCase.kind === 'test_fatigue' && loads.ranges.length > 0
      ? evaluateRanges(loads, set, forces, tubes)
      : undefined;
  return {
    frameCase,
    loads,
    solutions,
    worst,
    useOfTube,
    fatigue: ranged?.worst,
    reserveOfTube: ranged?.reserveOfTube,
    forces,
  };
}

function evaluateRanges(
  loads: CaseLoads,
  set: StressPoints,
  forces: Float64Array,
  tubes: number,
): { worst: WorstRange; reserveOfTube: Float64Array } {
  const reserveOfTube = new Float64Array(tubes).fill(Number.POSITIVE_INFINITY);
  let worst: WorstRange = { reserve: Number.POSITIVE_INFINITY, point: -1, range: 0, allowed: 0, cycles: 0, label: '' };
  const allowedBy = new Map<object, number>();
  for (const kind of loads.ranges) {
    allowedBy.clear();
    for (let i = 0; i < set.points.length; i++) {
      const p = set.points[i]!;
      if (!p.detail) continue;
      let allowed = allowedBy.get(p.detail.curve);
      if (allowed === undefined) {
        allowed = rangeAtCycles(p.detail.curve, kind.cycles);
        allowedBy.set(p.detail.curve, allowed);
      }
      const range = rangeAt(set, forces, i, kind.states);
      if (!(range > 0)) continue;
      const reserve = allowed / range;
      if (reserve < reserveOfTube[p.tube]!) reserveOfTube[p.tube] = reserve;
      if (reserve < worst.reserve)
        worst = { reserve, point: i, range, allowed, cycles: kind.cycles, label: kind.label };
    }
  }
  return { worst, reserveOfTube };
}

const ZERO = new Float64Array(6);

/** Greatest range of the stress that the detail at point `i` is judged by, between any two of the states, MPa. */
export function rangeAt(set: StressPoints, forces: Float64Array, i: number, states: readonly number[]): number {
  const p = set.points[i]!;
  const n = 6 * set.points.length;
  if (p.hotSpot)
    return hotSpotRange(
      p.hotSpot,
      states.map((v) => nominal(set, forces, i, v)),
    ).range;
  let most = 0;
  for (let a = 0; a < states.length; a++)
    for (let b = a + 1; b < states.length; b++) {
      const [va, vb] = [states[a]!, states[b]!];
      const range = worstRange(
        p.section,
        va === UNLOADED ? ZERO : forces,
        vb === UNLOADED ? ZERO : forces,
        va === UNLOADED ? 0 : va * n + 6 * i,
        vb === UNLOADED ? 0 : vb * n + 6 * i,
      );
      if (range > most) most = range;
    }
  return most;
}

/** Nominal stresses at a tube's end in the plane of the two tubes and across it. */
function nominal(set: StressPoints, forces: Float64Array, i: number, state: number): NominalStress {
  if (state === UNLOADED) return { axial: 0, inPlane: 0, outOfPlane: 0 };
  const p = set.points[i]!;
  const o = 6 * set.points.length * state + 6 * i;
  const [c, s] = p.plane;
  const my = forces[o + 4]!;
  const mz = forces[o + 5]!;
  // bending in the plane of the tubes is a moment about the normal of that plane
  const inPlane = c * mz - s * my;
  const out = c * my + s * mz;
  return {
    axial: forces[o]! / p.section.area,
    inPlane: Math.sign(inPlane) * bendingStress(p.section, -s * inPlane, c * inPlane),
    outOfPlane: Math.sign(out) * bendingStress(p.section, c * out, s * out),
  };
}
