/**
 * A structure with its members cut into elements, for what depends on the deflection between nodes.
 *
 * Every piece becomes one or more elements with nodes on its centre line. Own nodes and joints keep their indices; the first
 * and last element of a member keep its end compliances and rigid offsets.
 * Source: usual practice of beam-column subdivision.
 */
import { add, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, EndFlex, FrameNode, FrameStructure, Piece } from '../structure.ts';
import { pieceFrame } from './member-flexibility.ts';

export interface RefinedStructure {
  readonly structure: FrameStructure;
  /** For each element the member and piece it comes from. */
  readonly member: Int32Array;
  readonly piece: Int32Array;
  /** First element of each member, and at the end their number. */
  readonly first: Int32Array;
}

/** @param cuts elements that piece k of member m becomes. */
export function refineStructure(s: FrameStructure, cuts: (m: number, k: number) => number): RefinedStructure {
  const nodes: FrameNode[] = [...s.nodes];
  const members: BeamMember[] = [];
  const member: number[] = [];
  const piece: number[] = [];
  const first = new Int32Array(s.members.length + 1);
  s.members.forEach((m, index) => {
    const flexes = withoutSpin(m);
    let last = m.from;
    m.pieces.forEach((p, k) => {
      // a flexibility that is given for the whole cannot be cut
      const n = m.given ? 1 : cuts(index, k);
      const at = (t: number): Vec3 => (t === 0 ? p.from : t === 1 ? p.to : add(p.from, scale(sub(p.to, p.from), t)));
      for (let e = 0; e < n; e++) {
        const [a, b] = [e / n, (e + 1) / n];
        const begins = k === 0 && e === 0;
        const ends = k === m.pieces.length - 1 && e === n - 1;
        const next = ends ? m.to : nodes.push({ name: `${m.name} piece ${k} at ${b}`, at: at(b) }) - 1;
        const part: Piece = {
          from: at(a),
          to: at(b),
          y: p.y,
          E: p.E,
          G: p.G,
          section: p.at ? p.at((a + b) / 2) : p.section,
          ...(p.at ? { at: (t: number) => p.at!(a + t * (b - a)) } : {}),
        };
        const flex = flexes.filter((f) => (f.end === 0 ? begins : ends));
        members.push({
          name: m.name,
          from: last,
          to: next,
          pieces: [part],
          flex,
          ...(m.given ? { given: m.given } : {}),
        });
        member.push(index);
        piece.push(k);
        last = next;
      }
    });
    first[index + 1] = members.length;
  });
  return {
    structure: { nodes, members, joints: s.joints },
    member: Int32Array.from(member),
    piece: Int32Array.from(piece),
    first,
  };
}

/** Turn (share of a radian by cosine) within which an axis is a straight member's own. */
const PARALLEL = 1e-9;

/**
 * A straight member whose torsion is released at both ends carries none, but could spin about itself: as one element that
 * goes unnoticed, with nodes between it would be a mechanism. One of the two releases does the same without the spin.
 */
function withoutSpin(m: BeamMember): readonly EndFlex[] {
  if (!m.flex.some((f) => f.compliance.includes(Infinity))) return m.flex;
  const { x } = pieceFrame(m, 0);
  const own = (v: Vec3): boolean => Math.abs(v[0] * x[0] + v[1] * x[1] + v[2] * x[2]) > 1 - PARALLEL;
  if (!m.pieces.every((_, k) => own(pieceFrame(m, k).x))) return m.flex;
  const spins = (f: EndFlex): number =>
    [3, 4, 5].find((c) => f.compliance[c] === Infinity && own(f.axes[c - 3]!)) ?? -1;
  if (![0, 1].every((end) => m.flex.some((f) => f.end === end && spins(f) >= 0))) return m.flex;
  return m.flex.map((f) => {
    const spin = spins(f);
    if (f.end === 1 || spin < 0) return f;
    const compliance = f.compliance.map((c, i) => (i === spin ? 0 : c)) as unknown as EndFlex['compliance'];
    return { ...f, compliance };
  });
}
