/** Stiffness in the trade's terms, and whose flexibility each figure is. */
import {
  cross,
  type DeflectionShares,
  type DeflectionTarget,
  deflectionShares,
  type FrameSolver,
  type Looseness,
  looseness,
  type NodeLoad,
  STIFFNESS_IDS,
  type StiffnessId,
  type StiffnessTest,
  scale,
  stiffnessOf,
  stiffnessTest,
  sub,
  type Vec3,
} from '#kernel';
import type { FrameModel } from './frame-context.ts';

export interface StiffnessResult {
  readonly test: StiffnessTest;
  /** N/mm, or N·mm/rad. */
  readonly value: number;
  /** Of the motion under the test's load, mm (rad). */
  readonly shares: DeflectionShares;
  /** Softest joint: name and share of the motion; undefined where no joint gives. */
  readonly softest: { readonly name: string; readonly share: number } | undefined;
}

/** @param solver of the model's structure. */
export function runStiffness(model: FrameModel, solver: FrameSolver): ReadonlyMap<StiffnessId, StiffnessResult> {
  const out = new Map<StiffnessId, StiffnessResult>();
  for (const id of STIFFNESS_IDS) {
    const test = stiffnessTest(id, model.context);
    if (!test) continue;
    const [solution] = solver.solve(test.group);
    const load = test.group.loads[0]!;
    const shares = deflectionShares(solver, test.group, load, targetsOf(load, test.size, model));
    out.set(id, { test, value: stiffnessOf(test, solution!, model.context), shares, softest: softestJoint(shares) });
  }
  return out;
}

/** The motion that the load works on, per unit of its size. */
export function targetsOf(load: readonly NodeLoad[], size: number, model: FrameModel): DeflectionTarget[] {
  return load.flatMap(({ node, force, moment, at }) => {
    const arm = at ? sub(at, model.built.structure.nodes[node]!.at) : ([0, 0, 0] as Vec3);
    const carried = cross(arm, force);
    const turn: Vec3 = [moment[0] + carried[0], moment[1] + carried[1], moment[2] + carried[2]];
    const some = (v: Vec3): boolean => v.some((x) => x !== 0);
    return [
      ...(some(force) ? [{ node, direction: scale(force, 1 / size) }] : []),
      ...(some(turn) ? [{ node, direction: scale(turn, 1 / size), turn: true }] : []),
    ];
  });
}

/** All components of one joint together; bearings of the steerer count as one. */
export function softestJoint(shares: DeflectionShares): StiffnessResult['softest'] {
  const sums = new Map<string, number>();
  for (const p of shares.parts) {
    if (p.kind !== 'joint') continue;
    const name = p.name.replace(/ (lower|upper) bearing$/, '');
    sums.set(name, (sums.get(name) ?? 0) + p.value);
  }
  let best: { name: string; share: number } | undefined;
  for (const [name, value] of sums) {
    const share = value / shares.total;
    if (!best || share > best.share) best = { name, share };
  }
  return best;
}

/** What a hand feels: at the grips, fore and aft, and at the front wheel, sideways. */
export function runLooseness(model: FrameModel, solver: FrameSolver): { grips?: Looseness; wheel?: Looseness } {
  const of = (id: StiffnessId): Looseness | undefined => {
    const test = stiffnessTest(id, model.context);
    if (!test) return undefined;
    const load = test.group.loads[0]!;
    return looseness(solver, test.group, load, targetsOf(load, test.size, model));
  };
  const grips = of('bar_fore_aft');
  const wheel = of('front_lateral');
  return { ...(grips ? { grips } : {}), ...(wheel ? { wheel } : {}) };
}
