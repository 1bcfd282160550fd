/**
 * From tubes, blocks and joints to the beam model of one posture.
 *
 * Members are tied within each body as drawn in the ride posture (`connect.ts`); bodies are then carried to their posture
 * and tied to each other by joints. A tube becomes one element from tie to tie. Between a node and the elastic beginning of
 * a tube everything is rigid: blocks, the part of a tube that lies within another, what a joint's hardware stands in for.
 * Ends that carry nothing are left out: they would only cost time.
 * The steerer turns in bearings at the ends of the head tube.
 * Without a head tube and a steerer among the tubes it is a joint like others, with its own laws.
 * Units: mm, N, MPa. Source: theory.
 * Not here: which postures and loads, stresses.
 */
import type { Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameJoint, FrameNode, FrameStructure } from '../structure.ts';
import { type Bridge, bridgeBodies, type Mark, Ties, tieFreeEnds, tieMembers, type Weld } from './connect.ts';
import { axesAbout, bearingLaws, flexOf, freed, piecesOf, posedJoint } from './elements.ts';
import { type Head, headOf, onSecond, posePoint, type Side, tieHinge, tiePoint } from './hold.ts';
import { pointAt } from './line.ts';
import type { BodyPosture, FrameBlock, FrameHinge, FrameTube } from './parts.ts';
import { type Edge, prune, refuseApart } from './reduce.ts';
import { type WeldPlace, weldedPlaces } from './welds.ts';

/** Where a load acts or a fixture holds. */
export interface PlaceAt {
  readonly name: string;
  readonly body: number;
  readonly point: Vec3;
  /** Its loads bring their own point: a node that others ask for lies where they are. */
  readonly aside?: true;
  /** Farthest from a member's surface that it may lie, mm; anywhere when left out. */
  readonly within?: number;
}
export interface FrameParts {
  readonly tubes: readonly FrameTube[];
  readonly blocks: readonly FrameBlock[];
  readonly hinges: readonly FrameHinge[];
  readonly places: readonly PlaceAt[];
}
/** Part of a tube that one member of the structure stands for. */
export interface TubeSpan {
  readonly tube: number;
  /** Distance along the tube of the beginning of every piece, and of the end of the last. */
  readonly s: readonly number[];
  /** How far the tube is rigid before the first piece and after the last: distances along it of the far ends of that. */
  readonly rigid: readonly [number, number];
}
export interface BuiltFrame {
  readonly parts: FrameParts;
  readonly structure: FrameStructure;
  /** One per member of the structure. */
  readonly spans: readonly TubeSpan[];
  /** Node of each place; −1 where its body bears no load. */
  readonly placeNode: Int32Array;
  /** Body of every node. */
  readonly nodeBody: readonly number[];
  /** Places in this posture, mm. */
  readonly placePoint: readonly Vec3[];
  /** Joints of the structure that stand for each joint of the bicycle. */
  readonly hingeJoints: readonly (readonly number[])[];
  /** Nodes that a joint ties on its first and second body; −1 where it ties nothing. */
  readonly hingeNodes: readonly (readonly [number, number])[];
  /** Head tube's lower and upper node, the steerer's lower node; −1 where there is none. */
  readonly head: { readonly bottom: number; readonly top: number; readonly crown: number };
  /** Welded places of each tube. */
  readonly weldsOf: readonly (readonly WeldPlace[])[];
  readonly welds: readonly Weld[];
  readonly bridges: readonly Bridge[];
  /** Ranges left by a formula, in words. */
  readonly outside: readonly string[];
}

/** An elastic piece shorter than this is part of the rigid tie, mm. */
const SHORTEST = 1;

/** @throws RangeError where a body lies in pieces or a tube is impossible. */
export function buildFrame(parts: FrameParts, posture: BodyPosture): BuiltFrame {
  const ties = new Ties(parts.tubes, parts.blocks);
  tieMembers(ties);
  const head = headOf(ties, parts.hinges);
  const lugs = new Set<Mark>();
  const sides = parts.hinges.map((hinge, j) =>
    posture.hinges[j] === 'absent' || (j === head?.hinge && head.bearings.length > 0)
      ? undefined
      : ([
          tieHinge(ties, hinge, 0, hinge.at, lugs),
          tieHinge(ties, hinge, 1, onSecond(hinge, posture.bodyT), lugs),
        ] as const),
  );
  const placeItem = parts.places.map((place) => {
    const side = tiePoint(ties, place.body, place.point);
    if (side && side.gap > (place.within ?? Number.POSITIVE_INFINITY))
      throw new RangeError(
        `the ${place.name} lies ${side.gap.toFixed(0)} mm from ${side.name}, the nearest of its body that bears load: nothing in the file carries load there`,
      );
    return side;
  });
  tieFreeEnds(
    ties,
    new Set([
      ...[...sides.flatMap((s) => s ?? []), ...placeItem].flatMap((s) => (s ? [s.item] : [])),
      ...(head?.bearings.flatMap((b) => [b.frame.id, b.fork.id]) ?? []),
    ]),
  );
  bridgeBodies(ties);
  const weldsOf = parts.tubes.map((tube, t) => (tube.welded ? weldedPlaces(ties, t, lugs) : []));
  tieShort(ties);
  return assemble(parts, posture, ties, { sides, placeItem, head, weldsOf });
}

/** Pieces of tube too short to bend belong to the rigid tie. */
function tieShort(ties: Ties): void {
  ties.marksOf.forEach((marks, t) => {
    const { given } = ties.tubes[t]!;
    if (given && 'stiffness' in given) return;
    for (let i = 0; i + 1 < marks.length; i++) {
      const [a, b] = [marks[i]!, marks[i + 1]!];
      if (b.s - b.before - (a.s + a.after) < SHORTEST) ties.tie(a.id, b.id);
    }
  });
}

interface Found {
  readonly sides: readonly (readonly [Side | undefined, Side | undefined] | undefined)[];
  readonly placeItem: readonly (Side | undefined)[];
  readonly head: Head | undefined;
  readonly weldsOf: readonly (readonly WeldPlace[])[];
}
/** How far the tube is rigid from its i-th mark on, backward or forward: distance along it of the last mark of that. */
function rigidRun(ties: Ties, marks: readonly Mark[], i: number, step: 1 | -1): number {
  let k = i;
  for (let next = marks[k + step]; next; k += step, next = marks[k + step]) {
    const [a, b] = step > 0 ? [marks[k]!, next] : [next, marks[k]!];
    if (ties.group(a.id) !== ties.group(b.id) || b.s - b.before - (a.s + a.after) >= SHORTEST) break;
  }
  return marks[k]!.s;
}

function assemble(parts: FrameParts, posture: BodyPosture, ties: Ties, found: Found): BuiltFrame {
  const edges: Edge[] = [];
  ties.marksOf.forEach((marks, tube) => {
    for (let i = 0; i + 1 < marks.length; i++) {
      const [from, to] = [marks[i]!, marks[i + 1]!];
      const [a, b] = [ties.group(from.id), ties.group(to.id)];
      const rigid = [rigidRun(ties, marks, i, -1), rigidRun(ties, marks, i + 1, 1)] as const;
      if (a !== b) edges.push({ a, b, tube, from, to, rigid });
    }
  });
  const links: { a: number; b: number; hinge: number; make(from: number, to: number): FrameJoint }[] = [];
  parts.hinges.forEach((hinge, j) => {
    const sides = found.sides[j];
    if (!sides?.[0] || !sides[1]) return;
    const laws = posture.hinges[j] === 'free' ? freed(hinge) : hinge.laws;
    links.push({
      a: ties.group(sides[0].item),
      b: ties.group(sides[1].item),
      hinge: j,
      make: (from, to) => posedJoint(hinge.name, hinge.bodies[0], hinge.centre, hinge.axes, laws, posture, from, to),
    });
  });
  const { head } = found;
  head?.bearings.forEach((bearing, k) => {
    const hinge = parts.hinges[head.hinge]!;
    links.push({
      a: ties.group(bearing.frame.id),
      b: ties.group(bearing.fork.id),
      hinge: head.hinge,
      make: (from, to) =>
        posedJoint(
          `${hinge.name} ${k === 0 ? 'lower' : 'upper'} bearing`,
          hinge.bodies[0],
          bearing.at,
          axesAbout(hinge.axis),
          bearingLaws(k === 0),
          posture,
          from,
          to,
        ),
    });
  });
  const needed = new Set(found.placeItem.flatMap((p) => (p ? [ties.group(p.item)] : [])));
  const kept = prune(edges, links, needed);
  const where = positions(ties);
  refuseApart(kept, needed, ties, (g) => where.get(g)!);
  placeNodes(parts, ties, found, where);
  const number = new Map<number, number>();
  const nodes: FrameNode[] = [];
  const nodeBody: number[] = [];
  for (const g of kept.groups) {
    const place = where.get(g)!;
    number.set(g, nodes.length);
    nodes.push({ name: place.name, at: posePoint(posture.bodyT, place.body, place.at) });
    nodeBody.push(place.body);
  }
  const nodeOf = (item: number): number => number.get(ties.group(item)) ?? -1;
  const outside: string[] = [];
  const spans: TubeSpan[] = [];
  const spansOfTube = new Map<number, number>();
  for (const e of kept.edges) spansOfTube.set(e.tube, (spansOfTube.get(e.tube) ?? 0) + 1);
  const nth = new Map<number, number>();
  const members = kept.edges.map((e): BeamMember => {
    const tube = parts.tubes[e.tube]!;
    const k = (nth.get(e.tube) ?? 0) + 1;
    nth.set(e.tube, k);
    const { pieces, s, given } = piecesOf(ties, e, posture);
    spans.push({ tube: e.tube, s, rigid: e.rigid });
    return {
      name: spansOfTube.get(e.tube)! > 1 ? `${tube.name} (${k})` : tube.name,
      from: number.get(e.a)!,
      to: number.get(e.b)!,
      pieces,
      flex: flexOf(ties, e, posture, outside),
      ...(given ? { given } : {}),
    };
  });
  const hingeJoints: number[][] = parts.hinges.map(() => []);
  const joints = kept.links.map((l, i) => {
    hingeJoints[l.hinge]!.push(i);
    return l.make(number.get(l.a)!, number.get(l.b)!);
  });
  return {
    parts,
    structure: { nodes, members, joints },
    spans,
    placeNode: Int32Array.from(found.placeItem, (p) => (p ? nodeOf(p.item) : -1)),
    nodeBody,
    placePoint: parts.places.map((p) => posePoint(posture.bodyT, p.body, p.point)),
    hingeJoints,
    hingeNodes: parts.hinges.map((_, j): [number, number] => {
      const sides = found.sides[j];
      return [sides?.[0] ? nodeOf(sides[0].item) : -1, sides?.[1] ? nodeOf(sides[1].item) : -1];
    }),
    head: {
      bottom: head?.bottom ? nodeOf(head.bottom.id) : -1,
      top: head?.top ? nodeOf(head.top.id) : -1,
      crown: head?.crown ? nodeOf(head.crown.id) : -1,
    },
    weldsOf: found.weldsOf,
    welds: ties.welds,
    bridges: ties.bridges,
    outside,
  };
}

/**
 * Loads and fixtures act at nodes: where a head tube ends, where a place is, where a post leaves the frame, the node lies just
 * there, the first of them where several are tied together. Elsewhere it lies where `positions` puts it.
 */
function placeNodes(parts: FrameParts, ties: Ties, found: Found, where: Map<number, Position>): void {
  const placed = new Set<number>();
  const put = (item: number, at: Vec3): void => {
    const g = ties.group(item);
    if (placed.has(g)) return;
    placed.add(g);
    where.set(g, { ...where.get(g)!, at });
  };
  for (const mark of [found.head?.bottom, found.head?.top])
    if (mark) put(mark.id, pointAt(ties.lines[mark.tube]!, mark.s));
  found.placeItem.forEach((side, i) => {
    if (side && !parts.places[i]!.aside) put(side.item, parts.places[i]!.point);
  });
  parts.hinges.forEach((hinge, j) => {
    const side = hinge.kind === 'post' ? found.sides[j]?.[0] : undefined;
    if (side) put(side.item, hinge.at);
  });
}
interface Position {
  readonly name: string;
  readonly at: Vec3;
  readonly body: number;
}

/** Where the node of each group lies, and its name: a block's middle, the side of a tube, or a tube's end. */
function positions(ties: Ties): Map<number, Position> {
  const out = new Map<number, Position & { readonly rank: number }>();
  const offer = (g: number, rank: number, name: string, at: Vec3, body: number): void => {
    const old = out.get(g);
    if (!old || rank < old.rank) out.set(g, { name, at, body, rank });
  };
  ties.blocks.forEach((b, i) => {
    offer(ties.group(ties.blockItem[i]!), 0, b.name, b.centre, b.body);
  });
  for (const m of ties.marks) {
    const tube = ties.tubes[m.tube]!;
    const line = ties.lines[m.tube]!;
    const end = m.s === 0 ? 'first end' : m.s === line.length ? 'last end' : `${m.s.toFixed(0)} mm along`;
    const inside = m.s > 0 && m.s < line.length;
    offer(ties.group(m.id), inside ? 1 : 2, `${tube.name}, ${end}`, pointAt(line, m.s), tube.body);
  }
  return out;
}
