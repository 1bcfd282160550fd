/** Stiffness in the trade's terms, and whose flexibility each figure is. */
import {
  at3,
  combine,
  cross,
  type DeflectionShares,
  type DeflectionTarget,
  deflectionShares,
  type FrameSolver,
  type Looseness,
  looseness,
  MASS_SIZE,
  type Model,
  type NodeLoad,
  type RigidMass,
  rigidAt,
  STIFFNESS_IDS,
  type State,
  type StiffnessId,
  type StiffnessTest,
  sideOf,
  stiffnessOf,
  stiffnessTest,
  sub,
  type Vec3,
} from '#kernel';
import type { FrameModel } from './frame-context.ts';
import { jointOf } from './frame-words.ts';

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
    const shares = deflectionShares(solver, test.group, load, targetsOf(test.read, model));
    out.set(id, { test, value: stiffnessOf(test, solution!, model.context), shares, softest: softestJoint(shares) });
  }
  return out;
}

/** The motion that a unit load works on. */
export function targetsOf(load: readonly NodeLoad[], model: FrameModel): DeflectionTarget[] {
  return load.flatMap(({ node, force, moment, at }) => {
    const arm = at ? sub(at, model.built.structure.nodes[node]!.at) : ([0, 0, 0] as Vec3);
    const carried = cross(arm, force);
    const turn: Vec3 = [moment[0] + carried[0], moment[1] + carried[1], moment[2] + carried[2]];
    const some = (v: Vec3): boolean => v.some((x) => x !== 0);
    return [
      ...(some(force) ? [{ node, direction: force }] : []),
      ...(some(turn) ? [{ node, direction: turn, turn: true }] : []),
    ];
  });
}

/** All components of one joint together; bearings of the steerer count as one. */
export function softestJoint(shares: DeflectionShares): StiffnessResult['softest'] {
  const sums = new Map<string, number>();
  for (const p of shares.parts) {
    if (p.kind !== 'joint') continue;
    const name = jointOf(p.name);
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
    return looseness(solver, test.group, load, targetsOf(test.read, model));
  };
  const grips = of('bar_fore_aft');
  const wheel = of('front_lateral');
  return { ...(grips ? { grips } : {}), ...(wheel ? { wheel } : {}) };
}

/** Frequency of the steered parts on the frame that carries them. */
export interface Wobble {
  readonly mode: 'torsion' | 'sideways';
  /** Hz; N·m/rad or N/m; kg·m² or kg. */
  readonly frequency: number;
  readonly k: number;
  readonly inertia: number;
}

/**
 * A screen, no model of shimmy: the steered parts as one rigid mass on the head tube's torsion and on the sideways stiffness
 * at the tyre, the lower frequency of the two. The sideways mass is what the contact point feels of them.
 */
export function runWobble(
  m: Model,
  s: State,
  stiffness: ReadonlyMap<StiffnessId, StiffnessResult>,
): Wobble | undefined {
  const torsion = stiffness.get('head_torsion');
  const lateral = stiffness.get('front_lateral');
  const j = m.roles.steerer;
  if (!torsion || !lateral || j < 0) return undefined;
  const steered = sideOf(m.top, j);
  const parts: RigidMass[] = [];
  for (let e = 0; e < m.top.massBody.length; e++)
    if (steered[m.top.massBody[e]!]) parts.push(rigidAt(s.mass, MASS_SIZE * e));
  const front = combine(parts);
  const head = at3(s.joint, 6 * j);
  const [, dy, dz] = sub(front.com, head);
  const inertia = front.inertia[0]! + front.mass * (dy * dy + dz * dz);
  const contact = sub(at3(s.station, 3 * m.wheels.front.station), [0, 0, s.value[m.wheels.front.loadedRadius]!]);
  // a free body's mass at a point beside its centre: 1/m + lever²/I
  const lever = contact[2] - front.com[2];
  const felt = 1 / (1 / front.mass + (lever * lever) / front.inertia[0]!);
  const of = (mode: Wobble['mode'], k: number, i: number): Wobble => ({
    mode,
    k,
    inertia: i,
    frequency: Math.sqrt(k / i) / (2 * Math.PI),
  });
  const both = [of('torsion', 1e-3 * torsion.value, inertia), of('sideways', 1e3 * lateral.value, felt)];
  return both[0]!.frequency < both[1]!.frequency ? both[0] : both[1];
}
