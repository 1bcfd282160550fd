/**
 * A structure with its members cut into elements, for what depends on the deflection between nodes.
 *
 * Every piece becomes one or more elements with nodes on its centre line. Own nodes and joints keep their indices; the first
 * and last element of a member keep its end compliances and rigid offsets.
 * Source: usual practice of beam-column subdivision.
 */
import { add, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameNode, FrameStructure, Piece } from '../structure.ts';

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
    let last = m.from;
    m.pieces.forEach((p, k) => {
      const n = cuts(index, k);
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
        const flex = m.flex.filter((f) => (f.end === 0 ? begins : ends));
        members.push({ name: m.name, from: last, to: next, pieces: [part], flex });
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
