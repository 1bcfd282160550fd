/**
 * Mechanisms of the literature as input of `calc linkage`, built by closed forms that use nothing of the linkage kernel:
 * circle intersections for planar chains, Denavit–Hartenberg products for spatial ones.
 */
import { cross, scale, unit, type Vec3 } from '#kernel';
import { type LinkageInput, topic } from '../../src/study/calc/linkage.ts';

export const DEG = Math.PI / 180;
type Joint = LinkageInput['joints'][number];
type Drive = NonNullable<LinkageInput['drive']>;

/** A loop of bodies b0 (ground), b1, … with joint i between body i and the next. */
export const loop = (joints: readonly Omit<Joint, 'between'>[], drive?: Drive): LinkageInput => ({
  bodies: joints.map((_, i) => `b${i}`),
  ground: 'b0',
  joints: joints.map((joint, i) => ({ ...joint, between: [`b${i}`, `b${(i + 1) % joints.length}`] })),
  ...(drive ? { drive } : {}),
});
export const pivot = (at: Vec3, axis: Vec3): Omit<Joint, 'between'> => ({
  kind: 'pivot',
  at_mm: [...at],
  axis: [...axis],
});
export const slide = (axis: Vec3, at: Vec3 = [0, 0, 0]): Omit<Joint, 'between'> => ({
  kind: 'slide',
  at_mm: [...at],
  axis: [...axis],
});

/** Angles in the side plane count from x towards z: about −y. */
export const PLANE: Vec3 = [0, -1, 0];

/**
 * A four-bar with crank a, coupler b, rocker c, ground d, assembled at θ2 = 0; `open` or crossed.
 * Bodies: b0 ground, b1 crank, b2 coupler, b3 rocker. Joints: 0 crank on ground, 1, 2, 3 rocker on ground (its second body is
 * the ground: signs turned over).
 */
export function fourBar(
  a: number,
  b: number,
  c: number,
  d: number,
  open: boolean,
): { input: LinkageInput; theta3: number; theta4: number } {
  const r = d - a;
  const along = (b * b - c * c + r * r) / (2 * r);
  const up = Math.sqrt(b * b - along * along) * (open ? 1 : -1);
  const input = loop([
    pivot([0, 0, 0], PLANE),
    pivot([a, 0, 0], PLANE),
    pivot([a + along, 0, up], PLANE),
    pivot([d, 0, 0], scale(PLANE, -1)),
  ]);
  input.joints[3]!.between = ['b0', 'b3'];
  input.joints[3]!.axis = [...PLANE];
  return { input, theta3: Math.atan2(up, along) / DEG, theta4: Math.atan2(up, a + along - d) / DEG };
}

/** Angles θ3 and θ4 (deg) of that four-bar with the crank driven to θ2. */
export function fourBarAt(
  a: number,
  b: number,
  c: number,
  d: number,
  open: boolean,
  theta2: number,
): { theta3: number; theta4: number } {
  const made = fourBar(a, b, c, d, open);
  const [pose] = topic.run({ ...made.input, drive: { joint: 0, values_deg: [theta2] } }).poses;
  if (!pose!.ok) throw new Error(`four-bar does not close at ${theta2} deg`);
  const [crank, knee, , rocker] = pose!.joints;
  return { theta3: made.theta3 + crank! + knee!, theta4: made.theta4 + rocker! };
}

/** One Denavit–Hartenberg link: turn about z by θ, along z by d, along x by a, twist about x by α (deg, mm). */
export interface DhLink {
  readonly theta: number;
  readonly a: number;
  readonly alpha: number;
  readonly d?: number;
}
/** The axes of a chain of such links, in the frame of the first: a point and a direction each. */
export function dhAxes(links: readonly DhLink[]): { at: Vec3; axis: Vec3 }[] {
  let origin: Vec3 = [0, 0, 0];
  let x: Vec3 = [1, 0, 0];
  let z: Vec3 = [0, 0, 1];
  const axes: { at: Vec3; axis: Vec3 }[] = [];
  const mix = (u: Vec3, v: Vec3, angle: number): Vec3 => {
    const c = Math.cos(angle * DEG);
    const s = Math.sin(angle * DEG);
    return [u[0] * c + v[0] * s, u[1] * c + v[1] * s, u[2] * c + v[2] * s];
  };
  for (const link of links) {
    axes.push({ at: origin, axis: z });
    x = mix(x, cross(z, x), link.theta);
    const d = link.d ?? 0;
    origin = [
      origin[0] + link.a * x[0] + d * z[0],
      origin[1] + link.a * x[1] + d * z[1],
      origin[2] + link.a * x[2] + d * z[2],
    ];
    z = mix(z, cross(x, z), link.alpha);
  }
  return axes;
}

/** Bennett's loop with links (a, α), (b, β) assembled at t1; b from Bennett's condition a/sin α = b/sin β. */
export function bennett(
  a: number,
  alpha: number,
  beta: number,
  t1: number,
): { input: LinkageInput; t2: number; b: number } {
  const b = (a * Math.sin(beta * DEG)) / Math.sin(alpha * DEG);
  const k = Math.sin(((beta + alpha) / 2) * DEG) / Math.sin(((beta - alpha) / 2) * DEG);
  const t2 = (2 * Math.atan(k / Math.tan((t1 / 2) * DEG))) / DEG;
  const axes = dhAxes([
    { theta: t1, a, alpha },
    { theta: t2, a: b, alpha: beta },
    { theta: -t1, a, alpha },
    { theta: -t2, a: b, alpha: beta },
  ]);
  return { input: loop(axes.map(({ at, axis }) => pivot(at, axis))), t2, b };
}

/** Hooke's joint: shafts at `beta`, driven from the posture in which the driving fork lies in the shafts' plane (or square to it). */
export function hooke(beta: number, turn: number, forkInPlane: boolean): number {
  const second: Vec3 = [Math.cos(beta * DEG), 0, Math.sin(beta * DEG)];
  const square: Vec3 = [0, 1, 0];
  const arm: Vec3 = forkInPlane ? [0, 0, 1] : square;
  const other: Vec3 = forkInPlane ? square : unit(cross(square, second));
  const input = loop([
    pivot([0, 0, 0], [1, 0, 0]),
    pivot([0, 0, 0], arm),
    pivot([0, 0, 0], other),
    pivot([0, 0, 0], second),
  ]);
  input.joints[3]!.between = ['b0', 'b3'];
  const [pose] = topic.run({ ...input, drive: { joint: 0, values_deg: [turn] } }).poses;
  if (!pose!.ok) throw new Error('Hooke joint does not close');
  return pose!.joints[3]!;
}

/** Sarrus' loop: two sets of three parallel hinges, square to each other, between two plates. */
export const sarrus: LinkageInput = loop([
  pivot([50, 0, 0], [0, 1, 0]),
  pivot([80, 0, 40], [0, 1, 0]),
  pivot([50, 0, 80], [0, 1, 0]),
  pivot([0, 50, 80], [1, 0, 0]),
  pivot([0, 90, 40], [1, 0, 0]),
  pivot([0, 50, 0], [1, 0, 0]),
]);

/** Hinges at places and in directions of no special kind. */
export const generic = (n: number): LinkageInput =>
  loop(
    Array.from({ length: n }, (_, i) =>
      pivot(
        [100 * Math.cos(1 + 2.1 * i), 100 * Math.sin(0.3 + 1.7 * i), 100 * Math.cos(2 + 0.9 * i)],
        [Math.sin(1 + 3.3 * i), Math.cos(0.5 + 2.2 * i), Math.sin(2.5 + 1.3 * i)],
      ),
    ),
  );

/** A planar frame of pinned bars between nodes; where k bars meet, k − 1 pivots to the first of them. The first bar is the ground. */
export function pinnedBars(
  nodes: readonly (readonly [number, number])[],
  bars: readonly (readonly [number, number])[],
): LinkageInput {
  const joints: Joint[] = nodes.flatMap(([x, z], node) => {
    const here = bars.map((_, i) => i).filter((i) => bars[i]!.includes(node));
    return here.slice(1).map((i): Joint => ({ ...pivot([x, 0, z], PLANE), between: [`b${here[0]}`, `b${i}`] }));
  });
  return { bodies: bars.map((_, i) => `b${i}`), ground: 'b0', joints };
}

export const countOf = (input: LinkageInput): number => topic.run(input).mobility_count;
export const rankOf = (input: LinkageInput): number => topic.run(input).mobility_rank;
