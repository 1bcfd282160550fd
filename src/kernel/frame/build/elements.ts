/**
 * Members and joints of the beam model in their posture, from what ties and drawings say.
 *
 * The steerer turns in two bearings; each holds sideways, the lower one along the axis as well. A joint whose lock is open is
 * free about (along) its axis and keeps its other springs.
 * Units: mm, N, MPa. Stiffness of bearings: default, from memory.
 */
import { LuDecomposition, Matrix } from 'ml-matrix';
import { sectionAxes } from '../../mass/section.ts';
import { cross, scale, sub, turnVector, unit, type Vec3 } from '../../math/rigid.ts';
import { beamSection } from '../section/tube-section.ts';
import type { BeamMember, BeamSection, EndFlex, FrameJoint, JointLaw, Piece } from '../structure.ts';
import type { Ties } from './connect.ts';
import { posePoint } from './hold.ts';
import { directionAt, legAt, pointAt, sizeAt } from './line.ts';
import type { BodyPosture, FrameHinge } from './parts.ts';
import type { Edge } from './reduce.ts';
import { wallFlex } from './wall-flex.ts';

/** Stiffness of one bearing of a headset or bottom bracket, N/mm; of two on an axis one holds along it. Default, from memory. */
export const BEARING = { radial: 60_000, axial: 60_000 } as const;

/** The elastic part between two marks: its pieces, where each begins along the tube, and the flexibility that the file gives. */
export function piecesOf(
  ties: Ties,
  e: Edge,
  posture: BodyPosture,
): { pieces: Piece[]; s: number[]; given?: NonNullable<BeamMember['given']> } {
  const tube = ties.tubes[e.tube]!;
  const line = ties.lines[e.tube]!;
  const { given } = tube;
  const place = (s: number): Vec3 => posePoint(posture.bodyT, tube.body, pointAt(line, s));
  const turned = (v: Vec3): Vec3 => turnVector(posture.bodyT, 12 * tube.body, v);
  if (given && 'stiffness' in given) {
    const x = directionAt(line, 0);
    const { height } = sectionAxes(x);
    const flexibility = inverted(tube.name, given.stiffness);
    const at = (i: number): number => line.length / flexibility[7 * i]!;
    // with E = G = 1 the section is the rigidity itself: what buckling takes the block for
    const section = {
      area: at(0),
      iy: at(4),
      iz: at(5),
      j: at(3),
      asy: Number.POSITIVE_INFINITY,
      asz: Number.POSITIVE_INFINITY,
    };
    return {
      pieces: [{ from: place(0), to: place(line.length), y: turned(height), E: 1, G: 1, section }],
      s: [0, line.length],
      given: { axes: [turned(x), turned(height), turned(cross(x, height))], flexibility },
    };
  }
  const start = e.from.s + e.from.after;
  const end = e.to.s - e.to.before;
  const s = [start, ...line.along.filter((a) => a > start + 1e-9 && a < end - 1e-9), end];
  const nu = tube.E / (2 * tube.G) - 1;
  const [a, b] = tube.ends;
  const tapered = !given && (a.height !== b.height || a.width !== b.width || a.wall !== b.wall);
  const sectionAt = (at: number): BeamSection => {
    const size = tapered ? sizeAt(tube, line, at) : a;
    return given?.section ?? beamSection(tube.shape, size.height, size.width, size.wall, nu);
  };
  const plain = tapered ? undefined : sectionAt(0);
  const pieces = s.slice(1).map((s1, i): Piece => {
    const s0 = s[i]!;
    const leg = legAt(line, (s0 + s1) / 2);
    const along = unit(sub(line.points[leg + 1]!, line.points[leg]!));
    return {
      from: place(s0),
      to: place(s1),
      y: turned(sectionAxes(along).height),
      E: tube.E,
      G: tube.G,
      section: plain ?? sectionAt(s0),
      ...(plain ? {} : { at: (t: number) => sectionAt(s0 + t * (s1 - s0)) }),
    };
  });
  return { pieces, s };
}

/** @throws RangeError where the matrix has no inverse. */
function inverted(name: string, stiffness: readonly number[]): number[] {
  const k = Matrix.from1DArray(6, 6, [...stiffness]);
  // scaled to a unit diagonal: N/mm and N·mm lie six orders apart
  const d = k.diagonal().map((x) => 1 / Math.sqrt(x));
  const scaled = Matrix.from1DArray(
    6,
    6,
    [...stiffness].map((x, n) => x * d[Math.floor(n / 6)]! * d[n % 6]!),
  );
  const f = new LuDecomposition(scaled);
  if (f.isSingular()) throw new RangeError(`block ${name}: its stiffness resists no motion in some direction`);
  return f
    .solve(Matrix.eye(6))
    .to1DArray()
    .map((x, n) => x * d[Math.floor(n / 6)]! * d[n % 6]!);
}

/** The wall of the tube on whose side this one stands gives a little under it. */
export function flexOf(ties: Ties, e: Edge, posture: BodyPosture, outside: string[]): EndFlex[] {
  const tube = ties.tubes[e.tube]!;
  const { length } = ties.lines[e.tube]!;
  const out: EndFlex[] = [];
  for (const end of [0, 1] as const) {
    const s = e.rigid[end];
    if (s !== (end === 0 ? 0 : length)) continue;
    const weld = ties.welds.find((w) => w.tube === e.tube && w.end === end);
    if (!weld || !tube.welded || !ties.tubes[weld.chord]!.welded) continue;
    const away = scale(directionAt(ties.lines[e.tube]!, s), end === 0 ? 1 : -1);
    const along = directionAt(ties.lines[weld.chord]!, weld.s);
    const flex = wallFlex(
      tube,
      sizeAt(tube, ties.lines[e.tube]!, s),
      ties.tubes[weld.chord]!,
      sizeAt(ties.tubes[weld.chord]!, ties.lines[weld.chord]!, weld.s),
      away,
      along,
    );
    for (const why of flex.outside) outside.push(`${tube.name} on ${ties.tubes[weld.chord]!.name}: ${why}`);
    const turn = (v: Vec3): Vec3 => turnVector(posture.bodyT, 12 * tube.body, v);
    out.push({
      end,
      what: `wall of ${ties.tubes[weld.chord]!.name}`,
      axes: [turn(flex.axes[0]), turn(flex.axes[1]), turn(flex.axes[2])],
      compliance: flex.compliance,
    });
  }
  return out;
}

const FREE: JointLaw = { closed: 0 };
export const freed = (hinge: FrameHinge): FrameHinge['laws'] =>
  hinge.laws.map((law, k) =>
    k === (hinge.kind === 'slide' || hinge.kind === 'post' ? 2 : 5) ? FREE : law,
  ) as unknown as FrameHinge['laws'];
export const bearingLaws = (axial: boolean): FrameJoint['laws'] => [
  { closed: BEARING.radial },
  { closed: BEARING.radial },
  { closed: axial ? BEARING.axial : 0 },
  FREE,
  FREE,
  FREE,
];

/** Two directions square to an axis, and the axis: right-handed. */
export function axesAbout(axis: Vec3): readonly [Vec3, Vec3, Vec3] {
  const lateral = sectionAxes(axis);
  return [unit(cross(lateral.width, axis)), lateral.width, axis];
}

export function posedJoint(
  name: string,
  body: number,
  at: Vec3,
  axes: readonly [Vec3, Vec3, Vec3],
  laws: FrameJoint['laws'],
  posture: BodyPosture,
  from: number,
  to: number,
): FrameJoint {
  const turn = (v: Vec3): Vec3 => turnVector(posture.bodyT, 12 * body, v);
  return {
    name,
    role: 'joint',
    from,
    to,
    at: posePoint(posture.bodyT, body, at),
    axes: [turn(axes[0]), turn(axes[1]), turn(axes[2])],
    laws,
  };
}
