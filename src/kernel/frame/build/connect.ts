/**
 * What is tied to what within each body: which tubes meet, where, and what stands between them.
 *
 * Rules, in the ride posture, within one body:
 * 1. a tube end inside a block is tied to the block; a tube that runs through a block, or touches it, is tied to it where it
 *    is nearest to the block's middle; blocks that touch are tied;
 * 2. tube ends at one point are tied to each other;
 * 3. a tube end within the reach of another tube's wall is welded to that tube's centre line at the nearest point (or at its
 *    end, when that is nearer than half the tube's size); to all of them where several lie as near as the nearest;
 * 4. a tube end that is still free once joints have tied their sides, and whose own wall reaches another member within
 *    `BRIDGE`, is tied there; from `WELD` on that is reported as a bridge;
 * 5. what is in pieces then is bridged at the nearest surfaces, up to `BRIDGE`: small
 *    plates and gussets are seldom drawn. Every bridge is reported; a wider gap stays open and is reported too.
 * As near as the nearest means within `ALIKE`: a tube between two stays is tied to both, so that a symmetric bicycle stays so.
 * All ties are rigid; the flexibility of a welded wall is added where a tube stands on the side of another.
 * Not here: joints between bodies, nodes, elements (`build-frame.ts`).
 */
import { segmentBox } from '../../envelope/segment-box.ts';
import { segmentSegment } from '../../envelope/segment-distance.ts';
import { sectionAxes } from '../../mass/section.ts';
import { add, dot, norm, scale, sub, type Vec3 } from '../../math/rigid.ts';
import { directionAt, type Foot, footOn, type Line, lineOf, pointAt, reachAt, sineBetween } from './line.ts';
import type { FrameBlock, FrameTube } from './parts.ts';

/** Points of drawing that count as one, mm. */
const SAME = 0.5;
/** A weld or a fillet spans so much between a tube's end and another's wall, mm. */
const WELD = 5;
/** A tube that passes a block's face this near is welded to it, mm. */
const TOUCH = 1;
/** Marks on a tube nearer to each other than this are one, mm. */
const NEAR = 3;
/** Members as near as the nearest one, within this, are tied alike (two rails, two stays), mm. */
export const ALIKE = 1.5;
/** Widest gap that is bridged, mm: a gusset or plate that the file does not draw. Default, from memory. */
export const BRIDGE = 30;

/** A place on a tube that is tied to something. */
export interface Mark {
  readonly tube: number;
  readonly s: number;
  /** Member of a group of things rigidly tied together; see `Ties.group`. */
  readonly id: number;
  /** Rigid length before and after the mark, measured along the tube. */
  before: number;
  after: number;
}
/** A tube that stands on the side of another. */
export interface Weld {
  readonly tube: number;
  readonly end: 0 | 1;
  readonly chord: number;
  readonly s: number;
}
/** Two things of one body that the file leaves apart and the model ties. */
export interface Bridge {
  readonly a: string;
  readonly b: string;
  readonly gap: number;
}

/** The ties as they grow. */
export class Ties {
  readonly tubes: readonly FrameTube[];
  readonly blocks: readonly FrameBlock[];
  readonly lines: readonly Line[];
  readonly marks: Mark[] = [];
  readonly marksOf: Mark[][];
  /** Item of each block. */
  readonly blockItem: number[];
  readonly welds: Weld[] = [];
  readonly bridges: Bridge[] = [];
  /** Things of one body that lie too far apart to be tied. */
  readonly apart: Bridge[] = [];
  readonly #parent: number[] = [];

  constructor(tubes: readonly FrameTube[], blocks: readonly FrameBlock[]) {
    this.tubes = tubes;
    this.blocks = blocks;
    this.lines = tubes.map(lineOf);
    this.marksOf = tubes.map(() => []);
    this.blockItem = blocks.map(() => this.item());
  }

  item(): number {
    this.#parent.push(this.#parent.length);
    return this.#parent.length - 1;
  }
  get itemCount(): number {
    return this.#parent.length;
  }
  group(item: number): number {
    let i = item;
    while (this.#parent[i] !== i) {
      this.#parent[i] = this.#parent[this.#parent[i]!]!;
      i = this.#parent[i]!;
    }
    return i;
  }
  tie(a: number, b: number): void {
    const [p, q] = [this.group(a), this.group(b)];
    if (p !== q) this.#parent[Math.max(p, q)] = Math.min(p, q);
  }

  /** The mark of a tube at a distance along it: an existing one when it is near enough; the nearer end of one that cannot be cut. */
  mark(tube: number, place: number): Mark {
    const { given } = this.tubes[tube]!;
    const { length } = this.lines[tube]!;
    const s = given && 'stiffness' in given ? (place < length / 2 ? 0 : length) : place;
    const found = this.marksOf[tube]!.find((m) => Math.abs(m.s - s) < NEAR);
    if (found) return found;
    const made: Mark = { tube, s, id: this.item(), before: 0, after: 0 };
    this.marks.push(made);
    this.marksOf[tube]!.push(made);
    this.marksOf[tube]!.sort((a, b) => a.s - b.s);
    return made;
  }
  /** From the tube's centre line to its surface at `s`, towards a point. */
  reach(tube: number, s: number, towards: Vec3): number {
    return reachAt(this.tubes[tube]!, this.lines[tube]!, s, towards, sectionAxes(directionAt(this.lines[tube]!, s)));
  }
}

/** Ties the members of each body where the file draws them together; see rules 1–3. */
export function tieMembers(ties: Ties): void {
  const { tubes, blocks, lines } = ties;
  for (let t = 0; t < tubes.length; t++) {
    ties.mark(t, 0);
    ties.mark(t, lines[t]!.length);
  }
  for (let a = 0; a < blocks.length; a++)
    for (let b = a + 1; b < blocks.length; b++)
      if (blocks[a]!.body === blocks[b]!.body && blockGap(blocks[a]!, blocks[b]!) <= TOUCH)
        ties.tie(ties.blockItem[a]!, ties.blockItem[b]!);
  for (let t = 0; t < tubes.length; t++)
    for (let b = 0; b < blocks.length; b++) if (blocks[b]!.body === tubes[t]!.body) tieToBlock(ties, t, b);
  for (let t = 0; t < tubes.length; t++) for (const end of [0, 1] as const) tieEnd(ties, t, end);
}

function tieToBlock(ties: Ties, t: number, b: number): void {
  const block = ties.blocks[b]!;
  const line = ties.lines[t]!;
  const { half } = block;
  const { height, width } = ties.tubes[t]!.ends[0];
  const { height: height2, width: width2 } = ties.tubes[t]!.ends[1];
  // no point of the tube comes near a block that its centre line passes farther off than both are large
  const far = norm(half) + Math.max(height, width, height2, width2) + TOUCH + SAME;
  if (footOn(line, block.centre).distance > far) return;
  const inside = [0, line.length].filter((s) => depthInBox(block, pointAt(line, s)) > -SAME);
  for (const s of inside) {
    const mark = ties.mark(t, s);
    ties.tie(mark.id, ties.blockItem[b]!);
  }
  if (inside.length === 0) {
    const near = nearest(ties, { name: '', tube: -1, block: b, piece: 0 }, { name: '', tube: t, block: -1, piece: 0 });
    if (near.gap > TOUCH) return;
    ties.tie(ties.mark(t, footOn(line, block.centre).s).id, ties.blockItem[b]!);
  }
  for (const mark of ties.marksOf[t]!) {
    if (ties.group(mark.id) !== ties.group(ties.blockItem[b]!)) continue;
    mark.after = Math.max(mark.after, runInside(block, line, mark.s, 1));
    mark.before = Math.max(mark.before, runInside(block, line, mark.s, -1));
  }
}

/** Least distance to the box's faces from a point inside it; negative outside. */
function depthInBox(block: FrameBlock, p: Vec3): number {
  const d = sub(p, block.centre);
  const { half, axes } = block;
  return Math.min(
    half[0] - Math.abs(dot(d, axes[0])),
    half[1] - Math.abs(dot(d, axes[1])),
    half[2] - Math.abs(dot(d, axes[2])),
  );
}

/** How far a line runs on inside a box from a point in it. */
function runInside(block: FrameBlock, line: Line, from: number, sense: 1 | -1): number {
  const end = sense > 0 ? line.length : 0;
  let inside = from;
  let outside = end;
  if (depthInBox(block, pointAt(line, end)) > 0) return Math.abs(end - from);
  // bisection: a line leaves a convex box once, unless it is bent back into it
  for (let i = 0; i < 40; i++) {
    const s = (inside + outside) / 2;
    if (depthInBox(block, pointAt(line, s)) > 0) inside = s;
    else outside = s;
  }
  return Math.abs(inside - from);
}

function tieEnd(ties: Ties, t: number, end: 0 | 1): void {
  const { tubes, lines, blocks } = ties;
  const line = lines[t]!;
  const mark = ties.mark(t, end === 0 ? 0 : line.length);
  const p = pointAt(line, mark.s);
  const body = tubes[t]!.body;
  const inBlock = blocks.some((b, i) => b.body === body && ties.group(ties.blockItem[i]!) === ties.group(mark.id));
  const near: { tube: number; foot: Foot }[] = [];
  let beside: { tube: number; s: number; gap: number } | undefined;
  for (let o = 0; o < tubes.length; o++) {
    if (o === t || tubes[o]!.body !== body) continue;
    const other = lines[o]!;
    for (const s of [0, other.length])
      if (norm(sub(pointAt(other, s), p)) < SAME) ties.tie(ties.mark(o, s).id, mark.id);
    if (inBlock) continue;
    const foot = footOn(other, p);
    const reach = ties.reach(o, foot.s, sub(p, foot.point));
    const gap = foot.distance - reach;
    if (gap > WELD) continue;
    const size = Math.min(tubes[o]!.ends[0].height, tubes[o]!.ends[0].width) / 2;
    if (foot.s < size || foot.s > other.length - size) {
      const s = foot.s < size ? 0 : other.length;
      if (!beside || gap < beside.gap) beside = { tube: o, s, gap };
    } else near.push({ tube: o, foot });
  }
  const least = Math.min(...near.map((c) => c.foot.distance));
  const chords = near.filter((c) => c.foot.distance <= least + ALIKE);
  for (const chord of chords) {
    const at = ties.mark(chord.tube, chord.foot.s);
    ties.tie(at.id, mark.id);
    // a block has no thin wall that gives under a tube's end
    if (!tubes[chord.tube]!.given) ties.welds.push({ tube: t, end, chord: chord.tube, s: at.s });
    const away = scale(directionAt(line, mark.s), end === 0 ? 1 : -1);
    const wall = wallAlong(ties, chord.tube, at.s, pointAt(lines[chord.tube]!, at.s), p, away);
    if (end === 0) mark.after = Math.max(mark.after, wall);
    else mark.before = Math.max(mark.before, wall);
  }
  if (chords.length === 0 && beside) ties.tie(ties.mark(beside.tube, beside.s).id, mark.id);
}

/** Length of a tube that lies within another: from its end, on this side of the other's axis or beyond it, to the surface it comes out of. */
function wallAlong(ties: Ties, chord: number, s: number, foot: Vec3, end: Vec3, away: Vec3): number {
  const along = directionAt(ties.lines[chord]!, s);
  const square = sub(away, scale(along, dot(away, along)));
  const sine = Math.max(sineBetween(away, along), 0.3);
  const start = dot(sub(end, foot), square) / Math.max(norm(square), 1e-9);
  return Math.max(0, (ties.reach(chord, s, square) - start) / sine);
}

/** Ties tube ends that nothing holds yet to the member that their own wall reaches. `held` tells what joints hold. */
export function tieFreeEnds(ties: Ties, held: ReadonlySet<number>): void {
  const { tubes, lines, blocks } = ties;
  const members = new Map<number, number>();
  for (const item of [...ties.blockItem, ...ties.marks.map((m) => m.id)]) {
    const g = ties.group(item);
    members.set(g, (members.get(g) ?? 0) + 1);
  }
  const heldGroups = new Set([...held].map((i) => ties.group(i)));
  // all is looked at before anything is tied, so that the order of the tubes does not matter
  const found: { tube: number; name: string; gap: number; join(): void }[] = [];
  for (let t = 0; t < tubes.length; t++)
    for (const end of [0, 1] as const) {
      const line = lines[t]!;
      const mark = ties.mark(t, end === 0 ? 0 : line.length);
      const g = ties.group(mark.id);
      if (members.get(g)! > 1 || heldGroups.has(g)) continue;
      // what meets this tube elsewhere is tied to it already: the end only stands out beyond
      const groups = new Set(ties.marksOf[t]!.map((m) => ties.group(m.id)));
      const met = (items: readonly number[]): boolean => items.some((i) => groups.has(ties.group(i)));
      const p = pointAt(line, mark.s);
      const own = Math.min(tubes[t]!.ends[end].height, tubes[t]!.ends[end].width) / 2;
      const near: { tube: number; name: string; gap: number; join(): void }[] = [];
      for (let o = 0; o < tubes.length; o++) {
        if (o === t || tubes[o]!.body !== tubes[t]!.body || met(ties.marksOf[o]!.map((m) => m.id))) continue;
        const foot = footOn(lines[o]!, p);
        const gap = Math.max(foot.distance - ties.reach(o, foot.s, sub(p, foot.point)) - own, 0);
        const join = (): void => {
          const at = ties.mark(o, foot.s);
          ties.tie(at.id, mark.id);
          if (at.s > 0 && at.s < lines[o]!.length && !tubes[o]!.given)
            ties.welds.push({ tube: t, end, chord: o, s: at.s });
        };
        near.push({ tube: t, name: tubes[o]!.name, gap, join });
      }
      for (let b = 0; b < blocks.length; b++) {
        if (blocks[b]!.body !== tubes[t]!.body || met([ties.blockItem[b]!])) continue;
        const gap = Math.max(-depthInBox(blocks[b]!, p) - own, 0);
        near.push({ tube: t, name: blocks[b]!.name, gap, join: () => ties.tie(ties.blockItem[b]!, mark.id) });
      }
      const least = Math.min(...near.map((n) => n.gap));
      if (least <= BRIDGE) found.push(...near.filter((n) => n.gap <= least + ALIKE));
    }
  for (const { tube, name, gap, join } of found) {
    join();
    const a = tubes[tube]!.name;
    // two ends that face each other found each other twice
    if (gap > WELD && !ties.bridges.some((x) => x.a === name && x.b === a)) ties.bridges.push({ a, b: name, gap });
  }
}

/** Ties the pieces of each body at their nearest surfaces until it is one piece, or only wide gaps are left. */
export function bridgeBodies(ties: Ties): void {
  const { tubes, blocks } = ties;
  const bodies = new Set([...tubes.map((t) => t.body), ...blocks.map((b) => b.body)]);
  for (const body of bodies) {
    for (;;) {
      const things = thingsOf(ties, body);
      const first = things[0];
      if (!first || things.every((x) => x.piece === first.piece)) break;
      const near: Near[] = [];
      for (let i = 0; i < things.length; i++)
        for (let j = i + 1; j < things.length; j++) {
          const [p, q] = [things[i]!, things[j]!];
          if (p.piece === q.piece) continue;
          const pieces = [Math.min(p.piece, q.piece), Math.max(p.piece, q.piece)] as const;
          near.push({ ...nearest(ties, p, q), a: p.name, b: q.name, pieces });
        }
      const best = near.reduce((least, n) => (n.gap < least.gap ? n : least));
      if (best.gap > BRIDGE) {
        ties.apart.push({ a: best.a, b: best.b, gap: best.gap });
        break;
      }
      for (const { a, b, gap, pieces, join } of near) {
        if (gap > best.gap + ALIKE || pieces[0] !== best.pieces[0] || pieces[1] !== best.pieces[1]) continue;
        join();
        if (gap > SAME) ties.bridges.push({ a, b, gap });
      }
    }
  }
}
interface Near extends Bridge {
  /** The two pieces that it would join. */
  readonly pieces: readonly [number, number];
  join(): void;
}

interface Thing {
  readonly name: string;
  readonly tube: number;
  readonly block: number;
  readonly piece: number;
}
/** Tubes and blocks of a body, with the connected piece that each belongs to: marks of one tube hang together. */
function thingsOf(ties: Ties, body: number): Thing[] {
  const piece = new Map<number, number>();
  const find = (g: number): number => {
    let i = g;
    while (piece.has(i) && piece.get(i) !== i) i = piece.get(i)!;
    return i;
  };
  const join = (a: number, b: number): void => {
    const [p, q] = [find(a), find(b)];
    piece.set(p, p);
    piece.set(q, q);
    if (p !== q) piece.set(Math.max(p, q), Math.min(p, q));
  };
  ties.marksOf.forEach((marks, t) => {
    if (ties.tubes[t]!.body !== body) return;
    for (const m of marks) join(ties.group(marks[0]!.id), ties.group(m.id));
  });
  const out: Thing[] = [];
  ties.blocks.forEach((b, i) => {
    if (b.body === body) out.push({ name: b.name, tube: -1, block: i, piece: find(ties.group(ties.blockItem[i]!)) });
  });
  ties.tubes.forEach((t, i) => {
    if (t.body === body)
      out.push({ name: t.name, tube: i, block: -1, piece: find(ties.group(ties.marksOf[i]![0]!.id)) });
  });
  return out;
}

const boxRow = (b: FrameBlock): Float64Array =>
  Float64Array.of(...b.centre, ...b.axes[0], ...b.axes[1], ...b.axes[2], ...b.half);
const legRow = (line: Line, i: number): Float64Array => Float64Array.of(...line.points[i]!, ...line.points[i + 1]!);

/** Least gap between the surfaces of two things, and how to tie them there. */
function nearest(ties: Ties, a: Thing, b: Thing): { gap: number; join(): void } {
  if (a.tube >= 0 && b.tube < 0) return nearest(ties, b, a);
  const out = new Float64Array(2);
  const { lines, blocks } = ties;
  if (a.tube < 0 && b.tube < 0) {
    const gap = blockGap(blocks[a.block]!, blocks[b.block]!);
    return { gap, join: () => ties.tie(ties.blockItem[a.block]!, ties.blockItem[b.block]!) };
  }
  const lineB = lines[b.tube]!;
  let least = Number.POSITIVE_INFINITY;
  let sA = 0;
  let sB = 0;
  for (let j = 0; j + 1 < lineB.points.length; j++) {
    const leg = legRow(lineB, j);
    const spanB = lineB.along[j + 1]! - lineB.along[j]!;
    if (a.tube < 0) {
      const d = Math.sqrt(segmentBox(leg, 0, boxRow(blocks[a.block]!), 0, out));
      if (d < least) {
        least = d;
        sB = lineB.along[j]! + out[0]! * spanB;
      }
      continue;
    }
    const lineA = lines[a.tube]!;
    for (let i = 0; i + 1 < lineA.points.length; i++) {
      const d = Math.sqrt(segmentSegment(legRow(lineA, i), 0, leg, 0, out));
      if (d >= least) continue;
      least = d;
      sA = lineA.along[i]! + out[0]! * (lineA.along[i + 1]! - lineA.along[i]!);
      sB = lineB.along[j]! + out[1]! * spanB;
    }
  }
  const pB = pointAt(lineB, sB);
  if (a.tube < 0) {
    const gap = least - ties.reach(b.tube, sB, sub(blocks[a.block]!.centre, pB));
    return { gap: Math.max(gap, 0), join: () => ties.tie(ties.blockItem[a.block]!, ties.mark(b.tube, sB).id) };
  }
  const pA = pointAt(lines[a.tube]!, sA);
  const gap = least - ties.reach(a.tube, sA, sub(pB, pA)) - ties.reach(b.tube, sB, sub(pA, pB));
  return { gap: Math.max(gap, 0), join: () => ties.tie(ties.mark(a.tube, sA).id, ties.mark(b.tube, sB).id) };
}

/** Gap between two boxes: edges of each against the other. Two boxes that cross without an edge inside the other still meet an edge. */
const blockGap = (a: FrameBlock, b: FrameBlock): number => Math.min(boxGap(a, b), boxGap(b, a));

/** Least distance from box `a` to the edges of box `b`; 0 when an edge enters it. */
function boxGap(a: FrameBlock, b: FrameBlock): number {
  const out = new Float64Array(2);
  const row = boxRow(a);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 3; k++)
    for (const u of [-1, 1])
      for (const v of [-1, 1]) {
        const mid = add(
          b.centre,
          add(
            scale(b.axes[(k + 1) % 3]!, u * b.half[(k + 1) % 3]!),
            scale(b.axes[(k + 2) % 3]!, v * b.half[(k + 2) % 3]!),
          ),
        );
        const d = scale(b.axes[k]!, b.half[k]!);
        least = Math.min(least, segmentBox(Float64Array.of(...sub(mid, d), ...add(mid, d)), 0, row, 0, out));
      }
  return Math.sqrt(least);
}
