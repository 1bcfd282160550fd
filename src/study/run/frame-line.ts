/**
 * What a solved member does between its nodes: where its line goes and the moment that it carries, point by point.
 *
 * Method: the line starts from its first node (rigid offset, then the wall that gives), and is integrated along its pieces
 * with the section forces that statics give (Timoshenko: bending, twist, stretch, shear). Forces vary linearly along a
 * piece, so Simpson's rule is exact on a prismatic one. What is missing at the far end (`gap`: tapers, a stiffness that was
 * given for the member as a whole) is spread along the line, so that it always ends at its second node.
 * Units: mm, N, N·mm, rad. Source: theory. Not here: loads along members (the beam model has none).
 */
import {
  add,
  type BeamMember,
  cross,
  dot,
  type FrameSolution,
  type FrameStructure,
  norm,
  scale,
  sub,
  type Vec3,
} from '#kernel';

export interface LinePoint {
  readonly at: Vec3;
  /** Displacement. */
  readonly moved: Vec3;
  /** Moment that the part towards the second node exerts on the part before it, about this point, global axes. */
  readonly moment: Vec3;
}
export interface MemberLine {
  readonly points: readonly LinePoint[];
  /** mm by which the integrated line missed its second node before it was put right. */
  readonly gap: number;
}

/** Beginning and end of a member's elastic part. */
export const elasticEnds = (member: BeamMember): readonly [Vec3, Vec3] => [
  member.pieces[0]!.from,
  member.pieces.at(-1)!.to,
];

/** How an end of the member moves: its node's motion carried along the rigid offset, less what the wall there gives. */
function endMotion(s: FrameStructure, solution: FrameSolution, m: number, end: 0 | 1): { u: Vec3; turn: Vec3 } {
  const member = s.members[m]!;
  const node = end === 0 ? member.from : member.to;
  const at = elasticEnds(member)[end];
  const arm = sub(at, s.nodes[node]!.at);
  const v = (a: Float64Array, o: number): Vec3 => [a[o]!, a[o + 1]!, a[o + 2]!];
  let turn = v(solution.u, 6 * node + 3);
  let u = add(v(solution.u, 6 * node), cross(turn, arm));
  const o = 12 * m + 6 * end;
  const force = v(solution.end, o);
  const moment = sub(v(solution.end, o + 3), cross(arm, force));
  for (const flex of member.flex)
    if (flex.end === end)
      flex.axes.forEach((axis, k) => {
        u = sub(u, scale(axis, flex.compliance[k]! * dot(force, axis)));
        turn = sub(turn, scale(axis, flex.compliance[k + 3]! * dot(moment, axis)));
      });
  return { u, turn };
}

/** @param steps parts into which each straight piece is cut. */
export function memberLine(s: FrameStructure, solution: FrameSolution, m: number, steps = 6): MemberLine {
  const member = s.members[m]!;
  const o = 12 * m + 6;
  const force: Vec3 = [solution.end[o]!, solution.end[o + 1]!, solution.end[o + 2]!];
  const atNode: Vec3 = [solution.end[o + 3]!, solution.end[o + 4]!, solution.end[o + 5]!];
  const second = s.nodes[member.to]!.at;
  const momentAt = (p: Vec3): Vec3 => add(atNode, cross(sub(second, p), force));
  let { u, turn } = endMotion(s, solution, m, 0);
  const raw: { at: Vec3; moved: Vec3; along: number }[] = [{ at: member.pieces[0]!.from, moved: u, along: 0 }];
  let along = 0;
  for (const piece of member.pieces) {
    const line = sub(piece.to, piece.from);
    const length = norm(line);
    const x = scale(line, 1 / length);
    const z = cross(x, piece.y);
    const h = length / steps;
    const place = (t: number): Vec3 => add(piece.from, scale(line, t));
    const section = (t: number) => piece.at?.(t) ?? piece.section;
    const bend = (t: number): Vec3 => {
      const c = section(t);
      const mo = momentAt(place(t));
      const [a, b, d] = [
        dot(mo, x) / (piece.G * c.j),
        dot(mo, piece.y) / (piece.E * c.iy),
        dot(mo, z) / (piece.E * c.iz),
      ];
      return [0, 1, 2].map((i) => a * x[i]! + b * piece.y[i]! + d * z[i]!) as unknown as Vec3;
    };
    for (let k = 0; k < steps; k++) {
      const [t0, t1] = [k / steps, (k + 1) / steps];
      const [k0, km, k1] = [bend(t0), bend((t0 + t1) / 2), bend(t1)];
      const sum = (a: number, b: number, c: number): Vec3 =>
        [0, 1, 2].map((i) => turn[i]! + h * (a * k0[i]! + b * km[i]! + c * k1[i]!)) as unknown as Vec3;
      const middle = sum(5 / 24, 8 / 24, -1 / 24);
      const last = sum(1 / 6, 4 / 6, 1 / 6);
      const mean = scale(add(add(turn, scale(middle, 4)), last), h / 6);
      const c = section((t0 + t1) / 2);
      const stretch = (dot(force, x) / (piece.E * c.area)) * h;
      const slide = (axis: Vec3, area: number): Vec3 => scale(axis, (dot(force, axis) / (piece.G * area)) * h);
      u = add(add(u, cross(mean, x)), add(scale(x, stretch), add(slide(piece.y, c.asy), slide(z, c.asz))));
      turn = last;
      along += h;
      raw.push({ at: place(t1), moved: u, along });
    }
  }
  const missing = sub(endMotion(s, solution, m, 1).u, u);
  return {
    gap: norm(missing),
    points: raw.map((p) => ({
      at: p.at,
      moved: add(p.moved, scale(missing, p.along / along)),
      moment: momentAt(p.at),
    })),
  };
}
