/**
 * From tubes, blocks and joints to the beam model of one posture.
 *
 * Members are tied within each body as drawn in the ride posture (`connect.ts`); bodies are then carried to their posture
 * and tied to each other by joints. A tube becomes one element from tie to tie. Between a node and the elastic beginning of
 * a tube everything is rigid: blocks, the part of a tube that lies within another, what a joint's hardware stands in for.
 * Ends that carry nothing are left out: they would only cost time.
 * The steerer turns in two bearings at the ends of the head tube; each holds sideways, the lower one along the axis as well.
 * Without a head tube and a steerer among the tubes it is a joint like others, with its own laws.
 * Units: mm, N, MPa. Source: theory; stiffness of bearings: default, from memory.
 * Not here: which postures and loads, stresses.
 */
import { sectionAxes } from '../../mass/section.ts';
import {
  cross,
  dot,
  invert,
  movePoint,
  type Numbers,
  norm,
  scale,
  sub,
  turnVector,
  unit,
  type Vec3,
} from '../../math/rigid.ts';
import { beamSection } from '../section/tube-section.ts';
import type {
  BeamMember,
  BeamSection,
  EndFlex,
  FrameJoint,
  FrameNode,
  FrameStructure,
  JointLaw,
  Piece,
} from '../structure.ts';
import { ALIKE, type Bridge, bridgeBodies, type Mark, Ties, tieFreeEnds, tieMembers, type Weld } from './connect.ts';
import { directionAt, footOn, legAt, pointAt, sineBetween, sizeAt } from './line.ts';
import type { FrameBlock, FrameHinge, FrameTube } from './parts.ts';
import { wallFlex } from './wall-flex.ts';

/** Where a load acts or a fixture holds. */
export interface PlaceAt {
  readonly name: string;
  readonly body: number;
  readonly point: Vec3;
}
export interface FrameParts {
  readonly tubes: readonly FrameTube[];
  readonly blocks: readonly FrameBlock[];
  readonly hinges: readonly FrameHinge[];
  readonly places: readonly PlaceAt[];
}
/** What each joint does in this posture. */
export type HingeState = 'locked' | 'free' | 'absent';
export interface BodyPosture {
  /** 12 per body, as `State.bodyT` (SI). */
  readonly bodyT: Numbers;
  readonly hinges: readonly HingeState[];
}

/** Part of a tube that one member of the structure stands for. */
export interface TubeSpan {
  readonly tube: number;
  /** Distance along the tube of the beginning of every piece, and of the end of the last. */
  readonly s: readonly number[];
  /** How far the tube is rigid before the first piece and after the last: distances along it of the far ends of that. */
  readonly rigid: readonly [number, number];
}
/** A welded place of a tube: distance along it, and from where to where the weld and what it holds take it up. */
export interface WeldPlace {
  readonly s: number;
  readonly from: number;
  readonly to: number;
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

/** Radial and axial stiffness of one headset bearing, N/mm; default, from memory. */
const BEARING_RADIAL = 60_000;
const BEARING_AXIAL = 60_000;
/** A tube is coaxial with the steering axis when its ends lie as near to it as this, mm, and it is this long. */
const COAXIAL = 6;
const HEAD_LENGTH = 40;
/** An elastic piece shorter than this is part of the rigid tie, mm. */
const SHORTEST = 1;

interface Side {
  readonly item: number;
}

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
  const placeItem = parts.places.map((place) => tiePoint(ties, place.body, place.point));
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

/**
 * Where something is welded to a tube or it is welded to something. A welded tube that ends at a pivot or pin is welded to the
 * lug there, which its cut-out stands for; in sleeves and clamps (slide, post) it is not.
 */
function weldedPlaces(ties: Ties, t: number, lugs: ReadonlySet<Mark>): WeldPlace[] {
  const others = new Set<number>();
  ties.marksOf.forEach((marks, o) => {
    for (const m of marks) if (o !== t && ties.tubes[o]!.welded) others.add(ties.group(m.id));
  });
  for (const item of ties.blockItem) others.add(ties.group(item));
  return ties.marksOf[t]!.filter((m) => others.has(ties.group(m.id)) || lugs.has(m)).map((m): WeldPlace => {
    const foot = Math.max(0, ...ties.welds.flatMap((w) => (w.chord === t && w.s === m.s ? [halfFoot(ties, w)] : [])));
    const { length } = ties.lines[t]!;
    return {
      s: m.s,
      from: Math.max(m.s - Math.max(m.before, foot), 0),
      to: Math.min(m.s + Math.max(m.after, foot), length),
    };
  });
}

/** Half the length that a tube's end takes up along the tube on whose side it stands. */
function halfFoot(ties: Ties, weld: Weld): number {
  const line = ties.lines[weld.tube]!;
  const s = weld.end === 0 ? 0 : line.length;
  const { height, width } = sizeAt(ties.tubes[weld.tube]!, line, s);
  const sine = sineBetween(directionAt(line, s), directionAt(ties.lines[weld.chord]!, weld.s));
  return Math.min(height, width) / 2 / Math.max(sine, STEEPEST);
}
/** Sine of the flattest angle at which one tube stands on another; flatter ones lie along it. */
const STEEPEST = 0.3;

/** Ties a point of a body to the block that holds it or the tube nearest to it; undefined for a body without members. */
function tiePoint(ties: Ties, body: number, p: Vec3): Side | undefined {
  let best: { distance: number; item(): number } | undefined;
  ties.blocks.forEach((b, i) => {
    if (b.body !== body) return;
    const d = sub(p, b.centre);
    const out = [0, 1, 2].map((k) => Math.max(Math.abs(dot(d, b.axes[k]!)) - b.half[k]!, 0)) as unknown as Vec3;
    const distance = norm(out);
    if (!best || distance < best.distance) best = { distance, item: () => ties.blockItem[i]! };
  });
  ties.tubes.forEach((tube, t) => {
    if (tube.body !== body) return;
    const foot = footOn(ties.lines[t]!, p);
    if (!best || foot.distance < best.distance) best = { distance: foot.distance, item: () => ties.mark(t, foot.s).id };
  });
  return best && { item: best.item() };
}

/** Ties one side of a joint: every member that lies as near as the nearest, or the block that holds the joint. */
function tieHinge(ties: Ties, hinge: FrameHinge, side: 0 | 1, at: Vec3, lugs: Set<Mark>): Side | undefined {
  const body = hinge.bodies[side];
  const nearest = tiePoint(ties, body, at);
  if (!nearest) return undefined;
  const feet = ties.tubes.flatMap((tube, t) => (tube.body === body ? [{ t, foot: footOn(ties.lines[t]!, at) }] : []));
  const least = Math.min(...feet.map((f) => f.foot.distance));
  const inBlock = ties.blockItem.some((item) => ties.group(item) === ties.group(nearest.item));
  for (const { t, foot } of feet) {
    if (inBlock || foot.distance > least + ALIKE) continue;
    const { length } = ties.lines[t]!;
    const cut = Math.min(hinge.cutOut, 0.45 * length);
    const s = foot.s < cut ? 0 : foot.s > length - cut ? length : foot.s;
    const mark = ties.mark(t, s);
    if (s === 0) mark.after = Math.max(mark.after, cut);
    if (s === length) mark.before = Math.max(mark.before, cut);
    if ((hinge.kind === 'pivot' || hinge.kind === 'pin') && (mark.s === 0 || mark.s === length)) lugs.add(mark);
    ties.tie(mark.id, nearest.item);
  }
  return nearest;
}

/** Where a joint's point on its first body lies on the second, in the drawing of the ride posture: a post slides through its clamp. */
function onSecond(hinge: FrameHinge, bodyT: Numbers): Vec3 {
  const [a, b] = hinge.bodies;
  const back = new Float64Array(12);
  invert(bodyT, 12 * b, back, 0);
  return posePoint(back, 0, posePoint(bodyT, a, hinge.at));
}

/** Head tube and steerer: tubes of the steerer joint's bodies that lie on its axis. */
function headOf(ties: Ties, hinges: readonly FrameHinge[]): Head | undefined {
  const j = hinges.findIndex((h) => h.kind === 'steerer');
  const hinge = hinges[j];
  if (!hinge) return undefined;
  const off = (p: Vec3): number => norm(cross(sub(p, hinge.at), hinge.axis));
  const onAxis = (body: number): number =>
    ties.tubes.findIndex((tube, t) => {
      const { points, length } = ties.lines[t]!;
      return tube.body === body && length > HEAD_LENGTH && off(points[0]!) < COAXIAL && off(points.at(-1)!) < COAXIAL;
    });
  const head = onAxis(hinge.bodies[0]);
  const steerer = onAxis(hinge.bodies[1]);
  if (head < 0 || steerer < 0) return { hinge: j, bearings: [], bottom: undefined, top: undefined, crown: undefined };
  const height = (p: Vec3): number => dot(sub(p, hinge.at), hinge.axis);
  const ends = [0, ties.lines[head]!.length].sort(
    (a, b) => height(pointAt(ties.lines[head]!, a)) - height(pointAt(ties.lines[head]!, b)),
  );
  const line = ties.lines[steerer]!;
  const low = height(line.points[0]!) < height(line.points.at(-1)!) ? 0 : line.length;
  const bearings = ends.map((s) => {
    const at = pointAt(ties.lines[head]!, s);
    return { at, frame: ties.mark(head, s), fork: ties.mark(steerer, footOn(line, at).s) };
  });
  return { hinge: j, bearings, bottom: bearings[0]!.frame, top: bearings[1]!.frame, crown: ties.mark(steerer, low) };
}
interface Head {
  readonly hinge: number;
  readonly bearings: readonly { readonly at: Vec3; readonly frame: Mark; readonly fork: Mark }[];
  readonly bottom: Mark | undefined;
  readonly top: Mark | undefined;
  readonly crown: Mark | undefined;
}

/** Pieces of tube too short to bend belong to the rigid tie. */
function tieShort(ties: Ties): void {
  for (const marks of ties.marksOf)
    for (let i = 0; i + 1 < marks.length; i++) {
      const [a, b] = [marks[i]!, marks[i + 1]!];
      if (b.s - b.before - (a.s + a.after) < SHORTEST) ties.tie(a.id, b.id);
    }
}

interface Found {
  readonly sides: readonly (readonly [Side | undefined, Side | undefined] | undefined)[];
  readonly placeItem: readonly (Side | undefined)[];
  readonly head: Head | undefined;
  readonly weldsOf: readonly (readonly WeldPlace[])[];
}
/** A member before the nodes have their numbers. */
interface Edge {
  readonly a: number;
  readonly b: number;
  readonly tube: number;
  readonly from: Mark;
  readonly to: Mark;
  readonly rigid: readonly [number, number];
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
  const kept = prune(edges, links, new Set(found.placeItem.flatMap((p) => (p ? [ties.group(p.item)] : []))));
  refuseApart(kept, ties);
  const where = positions(ties);
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
    const { pieces, s } = piecesOf(ties, e, posture);
    spans.push({ tube: e.tube, s, rigid: e.rigid });
    return {
      name: spansOfTube.get(e.tube)! > 1 ? `${tube.name} (${k})` : tube.name,
      from: number.get(e.a)!,
      to: number.get(e.b)!,
      pieces,
      flex: flexOf(ties, e, posture, outside),
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

/** Takes away ends that carry nothing, one after the other, until none is left. */
function prune<L extends { a: number; b: number }>(
  edges: readonly Edge[],
  links: readonly L[],
  needed: ReadonlySet<number>,
): { edges: Edge[]; links: L[]; groups: number[] } {
  const alive = { edges: [...edges], links: [...links] };
  for (;;) {
    const degree = new Map<number, number>();
    for (const { a, b } of [...alive.edges, ...alive.links])
      for (const g of [a, b]) degree.set(g, (degree.get(g) ?? 0) + 1);
    const loose = (g: number): boolean => degree.get(g)! < 2 && !needed.has(g);
    const before = alive.edges.length + alive.links.length;
    alive.edges = alive.edges.filter((e) => !loose(e.a) && !loose(e.b));
    alive.links = alive.links.filter((l) => !loose(l.a) && !loose(l.b));
    if (alive.edges.length + alive.links.length === before) {
      const groups = new Set([...alive.edges, ...alive.links].flatMap((x) => [x.a, x.b]));
      return { ...alive, groups: [...groups].sort((p, q) => p - q) };
    }
  }
}

/** @throws RangeError where what bears load is in pieces. */
function refuseApart(
  kept: { edges: readonly Edge[]; links: readonly { a: number; b: number }[]; groups: readonly number[] },
  ties: Ties,
): void {
  const reached = new Set(kept.groups.slice(0, 1));
  for (let before = 0; before < reached.size; ) {
    before = reached.size;
    for (const { a, b } of [...kept.edges, ...kept.links])
      if (reached.has(a) || reached.has(b)) {
        reached.add(a);
        reached.add(b);
      }
  }
  const lost = kept.groups.find((g) => !reached.has(g));
  if (lost === undefined) return;
  const gap = ties.apart[0];
  throw new RangeError(
    gap
      ? `${gap.a} and ${gap.b} belong to one body but lie ${gap.gap.toFixed(0)} mm apart: nothing in the file carries load between them`
      : `nothing carries load between ${positions(ties).get(lost)!.name} and the rest of the frame`,
  );
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
    if (side) put(side.item, parts.places[i]!.point);
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

function piecesOf(ties: Ties, e: Edge, posture: BodyPosture): { pieces: Piece[]; s: number[] } {
  const tube = ties.tubes[e.tube]!;
  const line = ties.lines[e.tube]!;
  const start = e.from.s + e.from.after;
  const end = e.to.s - e.to.before;
  const s = [start, ...line.along.filter((a) => a > start + 1e-9 && a < end - 1e-9), end];
  const nu = tube.E / (2 * tube.G) - 1;
  const [a, b] = tube.ends;
  const tapered = a.height !== b.height || a.width !== b.width || a.wall !== b.wall;
  const sectionAt = (at: number): BeamSection => {
    const size = tapered ? sizeAt(tube, line, at) : a;
    return beamSection(tube.shape, size.height, size.width, size.wall, nu);
  };
  const plain = tapered ? undefined : sectionAt(0);
  const pieces: Piece[] = [];
  for (let i = 0; i + 1 < s.length; i++) {
    const [s0, s1] = [s[i]!, s[i + 1]!];
    const leg = legAt(line, (s0 + s1) / 2);
    const along = unit(sub(line.points[leg + 1]!, line.points[leg]!));
    pieces.push({
      from: posePoint(posture.bodyT, tube.body, pointAt(line, s0)),
      to: posePoint(posture.bodyT, tube.body, pointAt(line, s1)),
      y: turnVector(posture.bodyT, 12 * tube.body, sectionAxes(along).height),
      E: tube.E,
      G: tube.G,
      section: plain ?? sectionAt(s0),
      ...(plain ? {} : { at: (t: number) => sectionAt(s0 + t * (s1 - s0)) }),
    });
  }
  return { pieces, s };
}

/** The wall of the tube on whose side this one stands gives a little under it. */
function flexOf(ties: Ties, e: Edge, posture: BodyPosture, outside: string[]): EndFlex[] {
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
const freed = (hinge: FrameHinge): FrameHinge['laws'] =>
  hinge.laws.map((law, k) =>
    k === (hinge.kind === 'slide' || hinge.kind === 'post' ? 2 : 5) ? FREE : law,
  ) as unknown as FrameHinge['laws'];
const bearingLaws = (axial: boolean): FrameJoint['laws'] => [
  { closed: BEARING_RADIAL },
  { closed: BEARING_RADIAL },
  { closed: axial ? BEARING_AXIAL : 0 },
  FREE,
  FREE,
  FREE,
];

/** Two directions square to an axis, and the axis: right-handed. */
export function axesAbout(axis: Vec3): readonly [Vec3, Vec3, Vec3] {
  const lateral = sectionAxes(axis);
  return [unit(cross(lateral.width, axis)), lateral.width, axis];
}

function posedJoint(
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

/** A point in mm carried by a transform in SI. */
export function posePoint(bodyT: Numbers, body: number, p: Vec3): Vec3 {
  return scale(movePoint(bodyT, 12 * body, scale(p, 1e-3)), 1e3);
}
