/**
 * What a solver keeps of a structure: order, storage, and the elimination of all nodes that no support touches.
 *
 * Kept apart from the solver because two of them may live side by side: one with the joints' own stiffnesses eliminated
 * early, one with all joint nodes late, for joints that open and close from solution to solution.
 */
import { Mechanism } from '../structure.ts';
import { addMember, addSpring, type Blocks, endForces, type FrameNumbers } from './assembly.ts';
import { type ActiveJoints, jointForces } from './balance.ts';
import { type BlockFactor, blockFactor, factorise } from './block-ldl.ts';
import { DIRECTIONS, freeDirection, freeMotion } from './free-motion.ts';
import { blockAt, blockPattern } from './ordering.ts';

/** Pivot over its diagonal below which it is only round-off: some tens of additions of 2·10⁻¹⁶. */
const ROUNDOFF_PIVOT = 1e-14;
/** A sound cantilever of n elements comes down to n⁻³; below this its free motion is looked at. */
export const DOUBTFUL_PIVOT = 1e-6;
/**
 * Strain energy of the free motion over that of its components one by one. A rigid motion gives the square of the round-off
 * of its differences (≤ 1e-20), a sound frame of a thousand slender elements more than 1e-12.
 */
const NO_ENERGY = 1e-16;
/** With released members zero is a difference of large numbers: both limits rise to some hundreds of round-offs. */
const RELEASED = { pivot: 1e-12, energy: 1e-13 };

export interface FramePlan {
  readonly loose: boolean;
  readonly factor: BlockFactor;
  readonly members: readonly Blocks[];
  readonly joints: readonly Blocks[];
  /** Late panels after the early elimination, and diagonals as assembled (by place). */
  readonly schur: Float64Array;
  readonly diagonal: Float64Array;
  fresh: boolean;
}

/** Where an element between two nodes (−1: ground) lies in a factor's storage. */
export function blocksOf(f: BlockFactor, from: number, to: number): Blocks {
  const { place, start } = f.pattern;
  const first = from < 0 ? -1 : start[place[from]!]!;
  const second = to < 0 ? -1 : start[place[to]!]!;
  if (from < 0 || to < 0 || from === to) return { first, second, both: -1, flip: false };
  const flip = place[to]! < place[from]!;
  const both = blockAt(f.pattern, place[flip ? from : to]!, place[flip ? to : from]!);
  return { first, second, both, flip };
}

/** @param extra links besides members and joints. @param loose joints are not eliminated early. */
export function framePlan(
  numbers: FrameNumbers,
  late: Uint8Array,
  extra: readonly (readonly [number, number])[],
  loose: boolean,
): FramePlan {
  const { members, joints, nodes } = numbers.structure;
  const last = late.slice();
  if (loose)
    for (const { from, to } of joints) {
      if (from >= 0) last[from] = 1;
      if (to >= 0) last[to] = 1;
    }
  const edges = [...members, ...joints]
    .filter(({ from, to }) => from >= 0 && to >= 0)
    .map(({ from, to }) => [from, to] as const);
  const factor = blockFactor(blockPattern(nodes.length, [...edges, ...extra], last));
  return {
    loose,
    factor,
    members: members.map(({ from, to }) => blocksOf(factor, from, to)),
    joints: joints.map(({ from, to }) => blocksOf(factor, from, to)),
    schur: new Float64Array(factor.pattern.size - factor.pattern.start[factor.pattern.firstLate]!),
    diagonal: new Float64Array(6 * nodes.length),
    fresh: false,
  };
}

/** Assembles and eliminates the early nodes. @throws Mechanism when something is free whatever the supports. */
export function eliminateEarly(plan: FramePlan, numbers: FrameNumbers, held: Uint8Array, limit: Float64Array): void {
  const { factor, loose, diagonal } = plan;
  const { pattern, values } = factor;
  values.fill(0);
  for (let i = 0; i < plan.members.length; i++) addMember(numbers, i, plan.members[i]!, values);
  if (!loose)
    for (let i = 0; i < plan.joints.length; i++)
      for (let c = 0; c < 6; c++) {
        const k = numbers.jointK[6 * i + c]!;
        if (k > 0) addSpring(numbers.jointH, 72 * i + 12 * c, k, plan.joints[i]!, values);
      }
  for (let p = 0; p < pattern.nodes; p++)
    for (let c = 0; c < 6; c++)
      diagonal[6 * p + c] = values[pattern.start[p]! + 7 * c]! + numbers.gross[6 * pattern.order[p]! + c]!;
  held.fill(0);
  for (let i = 0; i < limit.length; i++) limit[i] = DOUBTFUL_PIVOT * diagonal[i]!;
  const active: ActiveJoints = {
    joints: loose ? [] : numbers.structure.joints,
    h: numbers.jointH,
    k: numbers.jointK,
    rest: undefined,
  };
  const springs = new Float64Array(diagonal.length);
  factorise(factor, 0, pattern.firstLate, held, limit, (p, c, d) =>
    judgePivot(numbers, factor, p, c, d, diagonal, active, springs, () => false),
  );
  plan.schur.set(values.subarray(pattern.start[pattern.firstLate]!));
  plan.fresh = true;
}

/**
 * True when a doubtful pivot is sound. @param diagonal by place; @param springs by node; @param supported whether a node has a support.
 * @throws Mechanism when it is not; RangeError when it is not a number.
 */
export function judgePivot(
  numbers: FrameNumbers,
  factor: BlockFactor,
  p: number,
  c: number,
  d: number,
  diagonal: Float64Array,
  active: ActiveJoints,
  springs: Float64Array,
  supported: (node: number) => boolean,
): boolean {
  const { nodes, members } = numbers.structure;
  const { order, place } = factor.pattern;
  const node = order[p]!;
  const own = diagonal[6 * p + c]!;
  if (!Number.isFinite(d) || !Number.isFinite(own))
    throw new RangeError(`the stiffness at node ${nodes[node]!.name} is not a number`);
  const v = freeMotion(factor, p, c);
  if (d > (numbers.released ? RELEASED.pivot : ROUNDOFF_PIVOT) * own) {
    const forces = new Float64Array(6 * nodes.length);
    endForces(numbers, v, 0, new Float64Array(12 * members.length), 0, forces);
    jointForces(active, v, 0, new Float64Array(6 * active.joints.length), 0, forces);
    let energy = 0;
    let apart = 0;
    for (let n = 0; n < nodes.length; n++)
      for (let i = 0; i < 6; i++) {
        const vi = v[6 * n + i]!;
        energy += vi * (forces[6 * n + i]! + springs[6 * n + i]! * vi);
        apart += vi * vi * diagonal[6 * place[n]! + i]!;
      }
    if (energy > (numbers.released ? RELEASED.energy : NO_ENERGY) * apart) return true;
  }
  const found = freeDirection(v, node, c, numbers.size, supported);
  throw new Mechanism(nodes[found.node]!.name, DIRECTIONS[found.component]!);
}
