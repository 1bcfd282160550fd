/**
 * Gaps that close on a finger along the moves of the fold.
 *
 * A gap up to 4 mm lets no fingertip in (ISO 13857), one of 25 mm and more lets a finger out again (EN 349 = ISO 13854; a hand
 * 100 mm): what closes from within that band, or through it, and ends below 25 mm, pinches. Every fold lays things beside things, so
 * that alone says nothing: it counts where a hand can be, which is a *zone* within `REACH` of
 *   (tubes cut to it, near-hand.ts) the place where the hand moves the part, the locks worked just before and after the move, the place where the other hand
 *   steadies the rest (zones are the caller's).
 * Pairs that meet at their joint are not compared by shape: their faces and pins close through the band by nature, each counts
 * once, where the last 25 mm close.
 * How hard: the closing gap's share of the hand's way; what it squeezes with is the hand's force over that share.
 * Sampled every 10 mm of the hand's way (12 to 160 samples). Units SI.
 * Not here: spokes, chains and their guards, levers against their tubes, clothes, children's hands.
 */
import { boundsApart } from '../envelope/gap.ts';
import { newPosedShapes, poseShapesOf } from '../envelope/posed-shapes.ts';
import { type FoldPlan, type LinkageWorkspace, poseAlong } from '../linkage/index.ts';
import { add, movePoint, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { KIND, type Model, type State } from '../model/types.ts';
import type { HandPlace } from './hand-place.ts';
import { gapNear } from './near-hand.ts';

/** m: below the first no finger gets in, from the second on it gets out; EN 349:1993+A1:2008 table 1, ISO 13857:2019 table 4. */
export const FINGER_GAP = { in: 0.004, out: 0.025 } as const;
/** Least gaps that crush nobody, m (EN 349:1993+A1:2008, table 1). */
export const BODY_GAPS = {
  finger: 0.025,
  toes: 0.05,
  hand: 0.1,
  arm: 0.12,
  foot: 0.12,
  leg: 0.18,
  head: 0.3,
  body: 0.5,
} as const;
export type BodyPart = keyof typeof BODY_GAPS;
/** Parts of the body that a gap would crush. */
export const crushes = (gap: number): readonly BodyPart[] =>
  (Object.keys(BODY_GAPS) as BodyPart[]).filter((part) => gap < BODY_GAPS[part]);

/** Where a hand is during a move. */
export interface HandZone {
  readonly body: number;
  /** Ride posture, m. */
  readonly point: Vec3;
  readonly what: 'moves' | 'lock' | 'steadies';
  /** Joint of the lock; -1 for the others. */
  readonly joint: number;
}
/** Faces that part at a joint, and their edge farthest from the axis, ride posture. */
export interface HingeFace {
  readonly joint: number;
  readonly edge: Vec3;
}
export interface Pinch {
  readonly segment: number;
  /** Ways on which it closes there; the figures are those of the tightest. */
  readonly ways: readonly ('fold' | 'unfold')[];
  /** Shapes that close; empty for the faces or the pin of a joint. */
  readonly shapes: readonly number[];
  /** Joint whose own faces or pin close; -1 for shapes. */
  readonly joint: number;
  readonly zone: HandZone;
  /** Gap that is left, and from which it closes (at most 25 mm), m. */
  readonly gap: number;
  readonly from: number;
  /** Where it is closest: fraction of the move, value of the driven joint, point in that posture. */
  readonly u: number;
  readonly value: number;
  readonly point: Vec3;
  /** Force in the gap over the hand's force, mean over the closing. */
  readonly advantage: number;
}

/** A hand's reach about its place: fist and half a tube, m. */
const REACH = 0.12;
const STRIDE = 0.01;
const LEAST = 12;
const MOST = 160;
/** Closing by less than this is not felt, m. */
const CLOSES = 0.001;
/** Findings nearer than this are at one place, m. */
const ONE_PLACE = 0.06;

export function fingerGaps(
  m: Pick<Model, 'top'>,
  s: State,
  plan: FoldPlan,
  places: readonly (HandPlace | undefined)[],
  zones: readonly (readonly HandZone[])[],
  faces: readonly HingeFace[],
  released: readonly (readonly number[])[],
  ws: LinkageWorkspace,
): readonly Pinch[] {
  const here: State = { ...s, q: new Float64Array(s.q.length), bodyT: s.bodyT.slice() };
  return plan.segments.flatMap((_, i) => {
    const place = places[i];
    if (!place) return [];
    const c: Context = { m, s, plan, i, place, here, ws };
    return together([...jointPinches(c, zones[i]!, faces, released[i]!), ...shapePinches(c, zones[i]!)]);
  });
}

/** Findings at one place are one, the tightest: shapes side by side, there and back. */
function together(found: readonly Pinch[]): Pinch[] {
  const out: Pinch[] = [];
  for (const p of [...found].sort((a, b) => a.gap - b.gap)) {
    const known = out.findIndex((o) => o.zone === p.zone && norm(sub(o.point, p.point)) <= ONE_PLACE);
    if (known < 0) out.push(p);
    else if (!out[known]!.ways.includes(p.ways[0]!)) out[known] = { ...out[known]!, ways: ['fold', 'unfold'] };
  }
  return out;
}
interface Context {
  readonly m: Pick<Model, 'top'>;
  readonly s: State;
  readonly plan: FoldPlan;
  readonly i: number;
  readonly place: HandPlace;
  readonly here: State;
  readonly ws: LinkageWorkspace;
}

/** One pair of shapes along the move: its gaps (Infinity where it is far, or no hand is near), points and zones. */
interface Track {
  readonly gap: Float64Array;
  readonly point: Float64Array;
  readonly zone: Int8Array;
}

function shapePinches(c: Context, zones: readonly HandZone[]): Pinch[] {
  const { m, plan, i, place, here, ws } = c;
  const { pairs, shapeBody } = m.top;
  const segment = plan.segments[i]!;
  const joints = [segment.joint, ...segment.followers];
  const n = m.top.kind.length;
  const moving: number[] = [];
  for (let k = 0; k < pairs.length; k += 2) {
    const [a, b] = [n * shapeBody[pairs[k]!]!, n * shapeBody[pairs[k + 1]!]!];
    if (joints.some((j) => ws.carried[a + j] !== ws.carried[b + j])) moving.push(k);
  }
  const shapes = Int32Array.from(new Set(moving.flatMap((k) => [pairs[k]!, pairs[k + 1]!])));
  const steps = Math.min(MOST, Math.max(LEAST, Math.ceil(place.way / STRIDE)));
  const tracks = new Map<number, Track>();
  const posed = newPosedShapes(m.top);
  const witness = new Float64Array(7);
  const middle = new Float64Array(3);
  const centres = new Float64Array(3 * zones.length);
  const hand = new Float64Array(3 * (steps + 1));
  for (let k = 0; k <= steps; k++) {
    poseAlong(m, plan, i, (segment.reached * k) / steps, here, ws);
    poseShapesOf(m.top, here, posed, shapes);
    zones.forEach((z, n) => {
      centres.set(movePoint(here.bodyT, 12 * z.body, z.point), 3 * n);
    });
    hand.set(movePoint(here.bodyT, 12 * place.body, place.point), 3 * k);
    for (const pair of moving) {
      const a = pairs[pair]!;
      const b = pairs[pair + 1]!;
      if (boundsApart(posed.bounds, a, b, FINGER_GAP.out)) continue;
      let gap = Infinity;
      let near = -1;
      for (let n = 0; n < zones.length; n++) {
        const here = gapNear(posed, a, b, centres, 3 * n, REACH, Math.min(gap, FINGER_GAP.out), witness);
        if (!(here < gap)) continue;
        gap = here;
        near = n;
        for (let c = 0; c < 3; c++) middle[c] = (witness[c]! + witness[3 + c]!) / 2;
      }
      if (near < 0) continue;
      let track = tracks.get(pair);
      if (!track) {
        track = {
          gap: new Float64Array(steps + 1).fill(Infinity),
          point: new Float64Array(3 * (steps + 1)),
          zone: new Int8Array(steps + 1).fill(-1),
        };
        tracks.set(pair, track);
      }
      track.gap[k] = gap;
      track.zone[k] = near;
      track.point.set(middle, 3 * k);
    }
  }
  // one finding for two bodies and a hand: the tightest
  const best = new Map<string, Pinch>();
  for (const [pair, track] of tracks)
    for (const way of ['fold', 'unfold'] as const) {
      const found = tightest(track, way, steps);
      if (!found) continue;
      const { k, from, start } = found;
      const shapes = [pairs[pair]!, pairs[pair + 1]!];
      const key = `${way} ${track.zone[k]} ${shapes.map((x) => shapeBody[x]).join(' ')}`;
      if ((best.get(key)?.gap ?? Infinity) <= track.gap[k]!) continue;
      let went = 0;
      for (let n = Math.min(start, k); n < Math.max(start, k); n++)
        went += Math.sqrt([0, 1, 2].reduce((sum, x) => sum + square(hand[3 * n + 3 + x]! - hand[3 * n + x]!), 0));
      const u = (segment.reached * k) / steps;
      best.set(key, {
        segment: i,
        ways: [way],
        shapes,
        joint: -1,
        zone: zones[track.zone[k]!]!,
        gap: Math.max(0, track.gap[k]!),
        from,
        u,
        value: segment.from + (segment.to - segment.from) * u,
        point: [track.point[3 * k]!, track.point[3 * k + 1]!, track.point[3 * k + 2]!],
        advantage: went / (from - Math.max(0, track.gap[k]!)),
      });
    }
  return [...best.values()];
}

const square = (x: number): number => x * x;

/** The least gap that is reached by closing, in the sense of the motion, at a hand; undefined where nothing pinches. */
function tightest(
  track: Track,
  way: 'fold' | 'unfold',
  steps: number,
): { readonly k: number; readonly from: number; readonly start: number } | undefined {
  let [widest, start] = [0, 0];
  let best: { k: number; from: number; start: number } | undefined;
  for (let n = 0; n <= steps; n++) {
    const k = way === 'fold' ? n : steps - n;
    const gap = track.gap[k]!;
    const open = Math.min(gap, FINGER_GAP.out);
    // the last place that is as wide: closing begins there
    if (open >= widest) [widest, start] = [open, k];
    if (gap >= FINGER_GAP.out || track.zone[k]! < 0) continue;
    if (widest > FINGER_GAP.in && widest - gap > CLOSES && !(best && track.gap[best.k]! <= gap))
      best = { k, from: widest, start };
  }
  return best;
}

/** Faces of hinges that come together at the ride value, and pins that come home, when unfolding. */
function jointPinches(
  c: Context,
  zones: readonly HandZone[],
  faces: readonly HingeFace[],
  released: readonly number[],
): Pinch[] {
  const { m, s, plan, i, here, ws, place } = c;
  const segment = plan.segments[i]!;
  const movers = new Set([segment.joint, ...segment.followers]);
  const at = (u: number): void => {
    poseAlong(m, plan, i, u, here, ws);
  };
  /** Where the gap between a point on two bodies last is 25 mm before they meet at the start of the move. */
  const closing = (a: number, b: number, p: Vec3, joint: number, zone: HandZone): Pinch[] => {
    const apart = (u: number): number => {
      at(u);
      return norm(sub(movePoint(here.bodyT, 12 * a, p), movePoint(here.bodyT, 12 * b, p)));
    };
    if (apart(0) > FINGER_GAP.in || !(apart(segment.reached) > FINGER_GAP.in)) return [];
    let [low, high] = [0, segment.reached];
    const rim = Math.min(FINGER_GAP.out, apart(high));
    for (let k = 0; k < 30; k++) {
      const middle = (low + high) / 2;
      if (apart(middle) < rim) low = middle;
      else high = middle;
    }
    const handAt = (u: number): Vec3 => {
      at(u);
      return movePoint(here.bodyT, 12 * place.body, place.point);
    };
    const went = norm(sub(handAt(high), handAt(0)));
    at(0);
    return [
      {
        segment: i,
        ways: ['unfold'],
        shapes: [],
        joint,
        zone,
        gap: 0,
        from: rim,
        u: 0,
        value: segment.from,
        point: scale(add(movePoint(here.bodyT, 12 * a, p), movePoint(here.bodyT, 12 * b, p)), 0.5),
        advantage: went / rim,
      },
    ];
  };
  const zoneAt = (joint: number, p: Vec3): HandZone | undefined =>
    zones.find((z) => z.joint === joint) ??
    zones.find(
      (z) => norm(sub(z.point, p)) <= REACH && (z.body === m.top.jointA[joint] || z.body === m.top.jointB[joint]),
    );
  const out: Pinch[] = [];
  for (const face of faces) {
    const { joint, edge } = face;
    const zone = zoneAt(joint, edge);
    if (zone && movers.has(joint)) out.push(...closing(m.top.jointA[joint]!, m.top.jointB[joint]!, edge, joint, zone));
  }
  for (const joint of released) {
    if (m.top.kind[joint] !== KIND.pin) continue;
    const p: Vec3 = [s.joint[6 * joint]!, s.joint[6 * joint + 1]!, s.joint[6 * joint + 2]!];
    const zone = zoneAt(joint, p);
    if (zone) out.push(...closing(m.top.jointA[joint]!, m.top.jointB[joint]!, p, joint, zone));
  }
  return out;
}
