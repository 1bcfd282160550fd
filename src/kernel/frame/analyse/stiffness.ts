/**
 * Stiffness in the trade's terms: a force or torque where a rider or a test rig puts it, over the motion there.
 *
 * | id | held | loaded | read |
 * | --- | --- | --- | --- |
 * | bb_lateral | rear axle but for its own turning; front axle sideways, up and its lean; bar straight | sideways at the bottom bracket | its sideways motion |
 * | bb_pedal | the same | on one pedal level ahead, 7.5° from the vertical, leaning in | sideways motion of the bottom bracket |
 * | head_torsion | rear axle clamped; lower head tube sideways and up | torque along x on the lower head tube | its turn about x |
 * | bar_fore_aft | head tube clamped, bar straight | forward, half at each grip | mean forward motion of the grips |
 * | bar_twist | the same | forward on the left, back on the right | turn of the line between the grips |
 * | saddle_vertical | both axles as on the road, without tyres | down on the saddle | its motion down |
 * | front_lateral | rear axle clamped, bar straight | sideways at the front tyre's contact | its sideways motion |
 *
 * Rigs of published figures differ in what they hold, so compare like with like. Head torsion of road frames 60–110 N·m/deg
 * and bottom brackets 40–70 N/mm are from memory; frames that fold are softer. Tyres and wheels are left out.
 * Units: mm, N, rad. Source: definitions are ours, after the usual bench measurements (common practice, no source).
 */
import { add, scale, sub, type Vec3 } from '../../math/rigid.ts';
import { clamp, hold, steeringLock } from '../cases/fixtures.ts';
import type { FrameContext } from '../places.ts';
import type { FrameJoint, FrameSolution, LoadGroup, NodeLoad } from '../structure.ts';

export const STIFFNESS_IDS = [
  'bb_lateral',
  'bb_pedal',
  'head_torsion',
  'bar_fore_aft',
  'bar_twist',
  'saddle_vertical',
  'front_lateral',
] as const;
export type StiffnessId = (typeof STIFFNESS_IDS)[number];

export interface StiffnessTest {
  readonly id: StiffnessId;
  readonly group: LoadGroup;
  /** Size of the load, N or N·mm. */
  readonly size: number;
  /** Unit load whose work is the motion that is read. */
  readonly read: readonly NodeLoad[];
  readonly rotates: boolean;
}

/** Reference loads: a firm push by hand. */
const PUSH = 200;
const TORQUE = 50_000;
/** Pull of a pedal from the vertical, as in the pedalling test. */
const TILT = (7.5 * Math.PI) / 180;

const unitOf = (loads: readonly NodeLoad[], size: number): NodeLoad[] =>
  loads.map((l) => ({ ...l, force: scale(l.force, 1 / size), moment: scale(l.moment, 1 / size) }));
const at = (context: FrameContext, node: number): Vec3 => context.structure.nodes[node]!.at;
const push = (node: number, force: Vec3, point?: Vec3): NodeLoad =>
  point ? { node, force, moment: [0, 0, 0], at: point } : { node, force, moment: [0, 0, 0] };

/** The test's supports and load; undefined where the bicycle lacks a place that it needs. */
export function stiffnessTest(id: StiffnessId, context: FrameContext): StiffnessTest | undefined {
  const { places: p } = context;
  const need = (...nodes: number[]): boolean => nodes.every((n) => n >= 0);
  const group = (
    supports: LoadGroup['supports'],
    fixtures: readonly FrameJoint[],
    load: readonly NodeLoad[],
  ): LoadGroup => ({
    supports,
    fixtures,
    loads: [load],
  });
  const locked = need(p.headBottom, p.crown) ? [steeringLock(context)] : [];
  const onRoad = [...hold(p.rearAxle, 0, 1, 2, 3, 5), ...hold(p.frontAxle, 1, 2, 3)];
  const made = (g: LoadGroup, size: number, rotates = false, read = unitOf(g.loads[0]!, size)): StiffnessTest => ({
    id,
    group: g,
    size,
    rotates,
    read,
  });
  switch (id) {
    case 'bb_lateral':
      return need(p.rearAxle, p.frontAxle, p.crank)
        ? made(group(onRoad, locked, [push(p.crank, [0, PUSH, 0])]), PUSH)
        : undefined;
    case 'bb_pedal': {
      if (!need(p.rearAxle, p.frontAxle, p.crank)) return undefined;
      const size = 5 * PUSH;
      const pedal = add(at(context, p.crank), [context.crankLength, -context.pedalOut, 0]);
      const load = push(p.crank, [0, size * Math.sin(TILT), -size * Math.cos(TILT)], pedal);
      // the chain takes up the cranks' torque
      const torque: NodeLoad = {
        node: p.crank,
        force: [0, 0, 0],
        moment: [0, -context.crankLength * size * Math.cos(TILT), 0],
      };
      return made(group(onRoad, locked, [load, torque]), size, false, [push(p.crank, [0, 1, 0])]);
    }
    case 'head_torsion':
      return need(p.rearAxle, p.headBottom)
        ? made(
            group([...clamp(p.rearAxle), ...hold(p.headBottom, 1, 2)], locked, [
              { node: p.headBottom, force: [0, 0, 0], moment: [TORQUE, 0, 0] },
            ]),
            TORQUE,
            true,
          )
        : undefined;
    case 'bar_fore_aft':
    case 'bar_twist': {
      if (!need(p.headTop, p.headBottom, p.gripLeft, p.gripRight)) return undefined;
      const held = [...clamp(p.headBottom), ...clamp(p.headTop)];
      const back = id === 'bar_twist' ? -1 : 1;
      const load = [push(p.gripLeft, [PUSH / 2, 0, 0]), push(p.gripRight, [(back * PUSH) / 2, 0, 0])];
      const span = at(context, p.gripLeft)[1] - at(context, p.gripRight)[1];
      return id === 'bar_twist'
        ? made(group(held, locked, load), (PUSH / 2) * span, true)
        : made(group(held, locked, load), PUSH);
    }
    case 'saddle_vertical':
      return need(p.rearAxle, p.frontAxle, p.saddleClamp)
        ? made(
            group([...hold(p.rearAxle, 0, 1, 2, 3, 5), ...hold(p.frontAxle, 1, 2, 3)], locked, [
              push(p.saddleClamp, [0, 0, -5 * PUSH], context.saddle),
            ]),
            5 * PUSH,
          )
        : undefined;
    case 'front_lateral': {
      if (!need(p.rearAxle, p.frontAxle, p.headBottom)) return undefined;
      const contact = sub(at(context, p.frontAxle), [0, 0, context.frontRadius]);
      return made(group(clamp(p.rearAxle), locked, [push(p.frontAxle, [0, PUSH, 0], contact)]), PUSH);
    }
  }
}

/** N/mm, or N·mm/rad where the test turns: size of the load over the motion that is read. */
export function stiffnessOf(test: StiffnessTest, solution: FrameSolution, context: FrameContext): number {
  return test.size / Math.abs(workOf(test.read, solution, context));
}

/** Work of loads on a solution: Σ F·u + M·θ, each force at its own point. */
export function workOf(loads: readonly NodeLoad[], solution: FrameSolution, context: FrameContext): number {
  let work = 0;
  for (const load of loads) {
    const o = 6 * load.node;
    const arm = load.at ? sub(load.at, at(context, load.node)) : ([0, 0, 0] as Vec3);
    const [fx, fy, fz] = load.force;
    const m: Vec3 = [
      load.moment[0] + arm[1] * fz - arm[2] * fy,
      load.moment[1] + arm[2] * fx - arm[0] * fz,
      load.moment[2] + arm[0] * fy - arm[1] * fx,
    ];
    for (let k = 0; k < 3; k++) work += load.force[k]! * solution.u[o + k]! + m[k]! * solution.u[o + 3 + k]!;
  }
  return work;
}
