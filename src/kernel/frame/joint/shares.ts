/**
 * Whose flexibility makes a deflection: the share of every member, welded wall, joint and fixture in one displacement.
 *
 * Method: unit-load virtual work. With λ the solution for a unit load at the target and u that for the real load, part e
 * contributes λₑᵀ Kₑ uₑ, which is the virtual force of the part times its real deformation; the parts sum to the
 * displacement itself (Mohr; Przemieniecki 1968, ch. 7). A member is split into the walls at its ends (their given compliance times
 * both forces there) and its body (the rest).
 * In a statically determinate structure forces do not depend on stiffness, so that halving one joint's stiffness just
 * doubles its own millimetres. In an indeterminate one forces move away from what softens: its millimetres grow by less, others' change
 * too, and a share may be negative, where a part bends against the target.
 * Units: mm, N, rad. Linear solutions only; of joints that open, shares belong to the closed frame. Not here: second order.
 */
import { cross, dot, type Numbers, norm, sub, type Vec3 } from '../../math/rigid.ts';
import type { FrameSolver } from '../beam/solver.ts';
import type { FrameSolution, LoadGroup, NodeLoad } from '../structure.ts';

/** A displacement: of a node along a direction, its rotation about it (`turn`), or a weighted sum of such. */
export interface DeflectionTarget {
  readonly node: number;
  /** Need not be a unit vector: its length is a weight. */
  readonly direction: Vec3;
  readonly turn?: boolean;
}
export interface DeflectionPart {
  readonly name: string;
  readonly kind: 'member' | 'wall' | 'joint' | 'fixture';
  /** mm (rad for a rotation). */
  readonly value: number;
  /** Of joints and fixtures: by component, along and about the joint's three axes. */
  readonly components?: readonly number[];
}
export interface DeflectionShares {
  readonly total: number;
  /** In the order of members (body, then its walls), joints, fixtures, sprung supports. */
  readonly parts: readonly DeflectionPart[];
}

const targetLoads = (targets: readonly DeflectionTarget[]): NodeLoad[] =>
  targets.map(({ node, direction, turn }) =>
    turn ? { node, force: [0, 0, 0], moment: direction } : { node, force: direction, moment: [0, 0, 0] },
  );

/** Value of a displacement functional in a solution. */
export const deflectionAt = (u: Float64Array, target: DeflectionTarget | readonly DeflectionTarget[]): number =>
  asList(target).reduce((sum, { node, direction, turn }) => {
    const o = 6 * node + (turn ? 3 : 0);
    return sum + direction[0] * u[o]! + direction[1] * u[o + 1]! + direction[2] * u[o + 2]!;
  }, 0);

const asList = (target: DeflectionTarget | readonly DeflectionTarget[]): readonly DeflectionTarget[] =>
  Array.isArray(target) ? (target as readonly DeflectionTarget[]) : [target as DeflectionTarget];

/** Force and moment that a solution's member carries at its end, about the point `at`. */
function sectionAt(s: FrameSolution, member: number, end: 0 | 1, node: Vec3, at: Vec3): { f: Vec3; m: Vec3 } {
  const o = 12 * member + 6 * end;
  const f: Vec3 = [s.end[o]!, s.end[o + 1]!, s.end[o + 2]!];
  const turned = cross(sub(node, at), f);
  return { f, m: [s.end[o + 3]! + turned[0], s.end[o + 4]! + turned[1], s.end[o + 5]! + turned[2]] };
}
const work = (a: Numbers, ao: number, b: Numbers, bo: number, n: number): number => {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += a[ao + i]! * b[bo + i]!;
  return sum;
};

/**
 * Shares in one displacement under one load vector of the group (its supports and fixtures; its own loads play no part).
 * @returns parts that sum to `total`; parts that contribute nothing are listed too.
 * @throws as the solver; RangeError where the target has no direction.
 */
export function deflectionShares(
  solver: FrameSolver,
  group: LoadGroup,
  load: readonly NodeLoad[],
  target: DeflectionTarget | readonly DeflectionTarget[],
): DeflectionShares {
  const targets = asList(target);
  if (!targets.some((t) => norm(t.direction) > 0)) throw new RangeError('the target displacement has no direction');
  const [real, virtual] = solver.solve({ ...group, loads: [load, targetLoads(targets)] }) as [
    FrameSolution,
    FrameSolution,
  ];
  const { structure } = solver.numbers;
  const parts: DeflectionPart[] = [];
  structure.members.forEach((member, i) => {
    const ends = [structure.nodes[member.from]!.at, structure.nodes[member.to]!.at] as const;
    const whole =
      work(virtual.end, 12 * i, real.u, 6 * member.from, 6) + work(virtual.end, 12 * i + 6, real.u, 6 * member.to, 6);
    let walls = 0;
    const wallParts = member.flex.map((flex): DeflectionPart => {
      const at = flex.end === 0 ? member.pieces[0]!.from : member.pieces.at(-1)!.to;
      const a = sectionAt(virtual, i, flex.end, ends[flex.end], at);
      const b = sectionAt(real, i, flex.end, ends[flex.end], at);
      let value = 0;
      flex.axes.forEach((axis, k) => {
        value += flex.compliance[k]! * dot(a.f, axis) * dot(b.f, axis);
        value += flex.compliance[k + 3]! * dot(a.m, axis) * dot(b.m, axis);
      });
      walls += value;
      return { name: `${flex.what} at ${member.name}`, kind: 'wall', value };
    });
    parts.push({ name: member.name, kind: 'member', value: whole - walls }, ...wallParts);
  });
  [...structure.joints, ...group.fixtures].forEach((joint, j) => {
    const components = joint.laws.map(({ closed }, c) =>
      closed > 0 ? (virtual.joint[6 * j + c]! * real.joint[6 * j + c]!) / closed : 0,
    );
    parts.push({
      name: joint.name,
      kind: joint.role,
      value: components.reduce((sum, x) => sum + x, 0),
      components,
    });
  });
  group.supports.forEach(({ node, component, stiffness }, i) => {
    if (!stiffness) return;
    parts.push({
      name: `support of ${structure.nodes[node]!.name} in ${['ux', 'uy', 'uz', 'rx', 'ry', 'rz'][component]}`,
      kind: 'fixture',
      value: (virtual.reaction[i]! * real.reaction[i]!) / stiffness,
    });
  });
  return { total: deflectionAt(real.u, targets), parts };
}
