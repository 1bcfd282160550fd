/**
 * A structure with its members cut into elements, for what depends on the deflection between nodes.
 *
 * Every piece becomes one or more elements with nodes on its centre line. An end compliance becomes a joint between the
 * member's node and a node of its own, because the geometric stiffness acts on the member's own end; a component without
 * compliance is then held by a penalty. Members keep their rigid offsets.
 * Source: usual practice of beam-column subdivision; penalty: own choice.
 */
import { add, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameJoint, FrameNode, FrameStructure, JointLaw, Piece } from '../structure.ts';
import { pieceFrame } from './member-flexibility.ts';

/** Over the piece's own stiffness at its end: large enough to shift a buckling load by 1e-6, small enough to keep ten digits. */
const PENALTY = 1e6;

export interface RefinedStructure {
  readonly structure: FrameStructure;
  /** For each element the member and piece it comes from. */
  readonly member: Int32Array;
  readonly piece: Int32Array;
  /** First element of each member, and one past the last. */
  readonly first: Int32Array;
  /** Joints before this index are the structure's own. */
  readonly ownJoints: number;
}

/** @param cuts elements that piece k of member m becomes. Own nodes and joints keep their indices. */
export function refineStructure(s: FrameStructure, cuts: (m: number, k: number) => number): RefinedStructure {
  const nodes: FrameNode[] = [...s.nodes];
  const joints: FrameJoint[] = [...s.joints];
  const members: BeamMember[] = [];
  const member: number[] = [];
  const piece: number[] = [];
  const first = new Int32Array(s.members.length + 1);
  s.members.forEach((m, index) => {
    const from = endNode(m, 0, nodes, joints);
    const to = endNode(m, 1, nodes, joints);
    let last = from;
    m.pieces.forEach((p, k) => {
      const n = cuts(index, k);
      for (let e = 0; e < n; e++) {
        const [a, b] = [e / n, (e + 1) / n];
        const at = (t: number): Vec3 => (t === 1 ? p.to : add(p.from, scale(sub(p.to, p.from), t)));
        const end = k === m.pieces.length - 1 && e === n - 1;
        const next = end ? to : nodes.push({ name: `${m.name} piece ${k} at ${b}`, at: at(b) }) - 1;
        const part: Piece = {
          from: at(a),
          to: at(b),
          y: p.y,
          E: p.E,
          G: p.G,
          section: p.at ? p.at((a + b) / 2) : p.section,
          ...(p.at ? { at: (t: number) => p.at!(a + t * (b - a)) } : {}),
        };
        members.push({ name: m.name, from: last, to: next, pieces: [part], flex: [] });
        member.push(index);
        piece.push(k);
        last = next;
      }
    });
    first[index + 1] = members.length;
  });
  return {
    structure: { nodes, members, joints },
    member: Int32Array.from(member),
    piece: Int32Array.from(piece),
    first,
    ownJoints: s.joints.length,
  };
}

/** The node at which the member's elastic part begins or ends: its own node, or a new one behind the end's compliances. */
function endNode(m: BeamMember, end: 0 | 1, nodes: FrameNode[], joints: FrameJoint[]): number {
  const flexes = m.flex.filter((f) => f.end === end && f.compliance.some((c) => c > 0));
  const k = end === 0 ? 0 : m.pieces.length - 1;
  const piece = m.pieces[k]!;
  const at = end === 0 ? piece.from : piece.to;
  const { length, x } = pieceFrame(m, k);
  const section = piece.at ? piece.at(end) : piece.section;
  let node = end === 0 ? m.from : m.to;
  for (const flex of flexes) {
    const laws = flex.compliance.map((c, a): JointLaw => {
      // A turn about the member's own axis that both ends release would leave it spinning: the other end releases it alone.
      const axis = flex.axes[a % 3]!;
      const along = Math.abs(axis[0] * x[0] + axis[1] * x[1] + axis[2] * x[2]) > 1 - 1e-9;
      const spins = a >= 3 && along && end === 0 && c === Infinity && releasesSpin(m, x);
      const own = a < 3 ? (piece.E * section.area) / length : (4 * piece.E * Math.max(section.iy, section.iz)) / length;
      if (c > 0 && !spins) return { closed: 1 / c };
      return { closed: PENALTY * own };
    });
    const next = nodes.push({ name: `${m.name} ${flex.what}`, at }) - 1;
    const six = laws as unknown as FrameJoint['laws'];
    joints.push({
      name: `${m.name} ${flex.what}`,
      role: 'joint',
      from: node,
      to: next,
      at,
      axes: flex.axes,
      laws: six,
    });
    node = next;
  }
  return node;
}

const releasesSpin = (m: BeamMember, x: Vec3): boolean =>
  m.flex.some(
    (f) =>
      f.end === 1 &&
      [0, 1, 2].some((a) => {
        const axis = f.axes[a]!;
        const along = Math.abs(axis[0] * x[0] + axis[1] * x[1] + axis[2] * x[2]) > 1 - 1e-9;
        return along && f.compliance[3 + a] === Infinity;
      }),
  );
