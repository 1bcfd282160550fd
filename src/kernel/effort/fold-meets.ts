/**
 * What a motion runs into when the moves before it are not those of the procedure.
 *
 * Whether two bodies meet during motion i depends only on the other motions that move them against one another. So pairs of
 * shapes are grouped by that set of motions, and each group is swept once for every subset of it: a few hundred short sweeps
 * instead of every pair in every one of the 2ⁿ states.
 * A sweep advances by the least gap over the speed of the fastest point (conservative advancement, B. Mirtich 1996), at least by
 * `STEP` of its way: what overlaps for less than that may be passed over. Shapes meet where they overlap by more than `TOUCH`.
 * Pairs that overlap while riding are left out, and so is what meets in the procedure's own order: both are told elsewhere.
 * Not here: proof (`envelope/prove-path`), bending out of the way.
 */
import { boundsApart, gapBetween } from '../envelope/gap.ts';
import { newPosedShapes, type PosedShapes, poseShapes, poseShapesOf } from '../envelope/posed-shapes.ts';
import { type FoldPlan, type LinkageWorkspace, poseBodies } from '../linkage/index.ts';
import type { Vec3 } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';
import { type FoldStates, motionTables, poseMotion } from './fold-states.ts';

/** Two shapes that meet. */
export interface Meeting {
  readonly shapes: readonly [number, number];
  /** Fraction of the motion, and the driven joint's value, where they first touch. */
  readonly u: number;
  readonly value: number;
  readonly point: Vec3;
  /** Way that the farthest point of the moving part still has to go, m. */
  readonly left: number;
  /** Bits of the motions that decide, and those of them that are done. */
  readonly among: number;
  readonly done: number;
}
export interface Meetings {
  /** The first contact of motion `i` with `done` done: going as in the fold, or coming back. */
  readonly first: (i: number, done: number, way: 'fold' | 'unfold') => Meeting | undefined;
  /** Greatest way of the moving part between fractions `from` and `to` of motion `i`, m. */
  readonly wayBetween: (i: number, done: number, from: number, to: number) => number;
  /** Sweeps made so far. */
  readonly sweeps: () => number;
}

/** Least step of the fastest point; overlap that counts; farthest look, m. */
export const STEP = 0.01;
export const TOUCH = 0.001;
const LOOK = 0.3;
/** Samples by which speeds are measured, and what an arc is longer than its chord there. */
const SPANS = 8;
const ARC = 1.03;

interface Group {
  readonly mask: number;
  /** Two shapes a pair. */
  readonly pairs: readonly number[];
  readonly shapes: Int32Array;
  readonly bodies: readonly number[];
}
type Sweep = { readonly fold?: Meeting; readonly unfold?: Meeting };

export function newMeetings(
  m: Pick<Model, 'top'>,
  s: State,
  plan: FoldPlan,
  states: FoldStates,
  ws: LinkageWorkspace,
): Meetings {
  const { top } = m;
  const state = (): State => ({ ...s, q: new Float64Array(s.q.length), bodyT: s.bodyT.slice() });
  const here = state();
  const tables = motionTables(m, plan, states, state(), ws);
  const posed = newPosedShapes(top);
  poseBodies(top, here);
  poseShapes(top, here, posed);
  const corners = cornersOf(m, posed);
  const groups = groupsOf(m, states, posed, ws);
  const known = new Map<string, Sweep>();
  let made = 0;

  const go = (done: number, i: number, u: number): void => poseMotion(m, plan, states, tables, done, i, u, here);

  /** Greatest way of any corner of the bodies between two postures of motion i. */
  const wayOf = (bodies: readonly number[], done: number, i: number, from: number, to: number): number => {
    go(done, i, from);
    const before = here.bodyT.slice();
    go(done, i, to);
    let most = 0;
    for (const b of bodies) most = Math.max(most, cornerWay(before, here.bodyT, b, corners));
    return most;
  };
  const everyBody = Array.from({ length: top.bodyCount }, (_, b) => b);

  const sweep = (group: Group, i: number, done: number): Sweep => {
    made++;
    const segment = plan.segments[states.motions[i]!.segment]!;
    let speed = 0;
    for (let k = 0; k < SPANS; k++)
      speed = Math.max(speed, wayOf(group.bodies, done, i, k / SPANS, (k + 1) / SPANS) * SPANS * ARC);
    // in a loop both bodies may move, against one another
    if (segment.kind === 'loop') speed *= 2;
    if (!(speed > 0)) return {};
    const contact = (from: number, to: number): Meeting | undefined => {
      const sense = to > from ? 1 : -1;
      for (let u = from; ; ) {
        go(done, i, u);
        poseShapesOf(top, here, posed, group.shapes);
        const found = nearest(posed, group.pairs, LOOK);
        if (found.gap < -TOUCH) return refine(found.pair, from, u);
        if (u === to) return undefined;
        const next = u + (sense * Math.max(found.gap, STEP)) / speed;
        u = sense * (next - to) >= 0 ? to : next;
      }
    };
    /** The pair's first contact between a clear start and `hit`. */
    const refine = (pair: number, from: number, hit: number): Meeting => {
      const [a, b] = [group.pairs[pair]!, group.pairs[pair + 1]!];
      let [clear, touch] = [from, hit];
      const point: [number, number, number] = [0, 0, 0];
      const look = (u: number): number => {
        go(done, i, u);
        poseShapesOf(top, here, posed, Int32Array.of(a, b));
        const gap = gapBetween(posed, a, b, Infinity, witness);
        for (let c = 0; c < 3; c++) point[c] = (witness[c]! + witness[3 + c]!) / 2;
        return gap;
      };
      // the last sample before lies at most a look away
      const span = Math.min(1, (LOOK + STEP) / speed);
      clear = hit > from ? Math.max(from, hit - span) : Math.min(from, hit + span);
      if (look(clear) < -TOUCH) clear = from;
      for (let k = 0; k < 12; k++) {
        const middle = (clear + touch) / 2;
        if (look(middle) < -TOUCH) touch = middle;
        else clear = middle;
      }
      look(touch);
      const end = hit > from || (hit === from && from === 0) ? 1 : 0;
      return {
        shapes: [a, b],
        u: touch,
        value: segment.from + (segment.to - segment.from) * touch,
        point: [...point],
        left: wayOf(everyBody, done, i, touch, end),
        among: group.mask,
        done: done & group.mask,
      };
    };
    const fold = contact(0, segment.reached);
    if (!fold) return {};
    const unfold = contact(segment.reached, 0);
    return { fold, ...(unfold ? { unfold } : {}) };
  };

  const look = (group: Group, i: number, done: number): Sweep => {
    const relevant = done & group.mask & ~(1 << i);
    const key = `${group.mask} ${i} ${relevant}`;
    let found = known.get(key);
    if (!found) {
      const meant = ((1 << i) - 1) & group.mask;
      // the procedure's own order is judged by the proof of the path
      found = relevant === meant ? {} : sweep(group, i, relevant);
      known.set(key, found);
    }
    return found;
  };
  return {
    first: (i, done, way) => {
      let best: Meeting | undefined;
      for (const group of groups) {
        if (!((group.mask >> i) & 1)) continue;
        const found = look(group, i, done)[way];
        if (found && (!best || (way === 'fold' ? found.u < best.u : found.u > best.u))) best = found;
      }
      return best;
    },
    wayBetween: (i, done, from, to) => wayOf(everyBody, done, i, from, to),
    sweeps: () => made,
  };
}

const witness = new Float64Array(7);

/** Least gap over the pairs as far as `reach`, and where in the list it is. */
function nearest(posed: PosedShapes, pairs: readonly number[], reach: number): { gap: number; pair: number } {
  let [gap, pair] = [reach, -1];
  for (let k = 0; k < pairs.length; k += 2) {
    const [a, b] = [pairs[k]!, pairs[k + 1]!];
    if (boundsApart(posed.bounds, a, b, gap > 0 ? gap : 0)) continue;
    const here = gapBetween(posed, a, b, gap > 0 ? gap : Infinity, witness);
    if (here < gap) [gap, pair] = [here, k];
    // one that overlaps is enough
    if (gap < -TOUCH) break;
  }
  return { gap, pair };
}

/** Motions that move two bodies against one another, as bits. */
function betweenBits(m: Pick<Model, 'top'>, states: FoldStates, a: number, b: number, ws: LinkageWorkspace): number {
  const n = m.top.kind.length;
  let mask = 0;
  states.motions.forEach((motion, i) => {
    if (motion.joints.some((j) => ws.carried[a * n + j] !== ws.carried[b * n + j])) mask |= 1 << i;
  });
  return mask;
}

function groupsOf(m: Pick<Model, 'top'>, states: FoldStates, ride: PosedShapes, ws: LinkageWorkspace): Group[] {
  const { pairs, shapeBody, bodyCount } = m.top;
  const bits = new Int32Array(bodyCount * bodyCount).fill(-1);
  const found = new Map<number, { pairs: number[]; bodies: Set<number> }>();
  for (let k = 0; k < pairs.length; k += 2) {
    const [a, b] = [pairs[k]!, pairs[k + 1]!];
    const [ba, bb] = [shapeBody[a]!, shapeBody[b]!];
    const at = ba * bodyCount + bb;
    if (bits[at] === -1) bits[at] = betweenBits(m, states, ba, bb, ws);
    const mask = bits[at]!;
    // bodies that one motion alone moves against one another do not care for the order
    if ((mask & (mask - 1)) === 0) continue;
    if (!boundsApart(ride.bounds, a, b, 0) && gapBetween(ride, a, b, Infinity, witness) < 0) continue;
    let group = found.get(mask);
    if (!group) {
      group = { pairs: [], bodies: new Set() };
      found.set(mask, group);
    }
    group.pairs.push(a, b);
    group.bodies.add(ba).add(bb);
  }
  return [...found].map(([mask, g]) => ({
    mask,
    pairs: g.pairs,
    shapes: Int32Array.from(new Set(g.pairs)),
    bodies: [...g.bodies],
  }));
}

/** 24 numbers a body: corners of the bounds of all its shapes in the ride posture; NaN where it has none. */
function cornersOf(m: Pick<Model, 'top'>, ride: PosedShapes): Float64Array {
  const { bodyCount, shapeBody } = m.top;
  const out = new Float64Array(24 * bodyCount).fill(Number.NaN);
  for (let body = 0; body < bodyCount; body++) {
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < shapeBody.length; i++) {
      if (shapeBody[i] !== body) continue;
      for (let c = 0; c < 3; c++) {
        low[c] = Math.min(low[c]!, ride.bounds[6 * i + c]!);
        high[c] = Math.max(high[c]!, ride.bounds[6 * i + 3 + c]!);
      }
    }
    if (!(low[0]! <= high[0]!)) continue;
    for (let k = 0; k < 8; k++)
      for (let c = 0; c < 3; c++) out[24 * body + 3 * k + c] = (k >> c) & 1 ? high[c]! : low[c]!;
  }
  return out;
}

/** Greatest way of the corners of body `b` from one set of motions to the other; of any point inside, it is no more. */
function cornerWay(from: Float64Array, to: Float64Array, b: number, corners: Float64Array): number {
  let most = 0;
  for (let k = 24 * b; k < 24 * b + 24; k += 3) {
    const x = corners[k]!;
    const y = corners[k + 1]!;
    const z = corners[k + 2]!;
    let sum = 0;
    for (let r = 12 * b; r < 12 * b + 12; r += 4) {
      const d =
        (to[r]! - from[r]!) * x +
        (to[r + 1]! - from[r + 1]!) * y +
        (to[r + 2]! - from[r + 2]!) * z +
        to[r + 3]! -
        from[r + 3]!;
      sum += d * d;
    }
    if (sum > most) most = sum;
  }
  return Math.sqrt(most);
}
