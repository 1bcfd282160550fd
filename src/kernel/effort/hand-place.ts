/**
 * Where a hand (or a foot) takes hold for each move of the fold.
 *
 * A hand holds tubes, grips, a saddle, a pedal: capsules up to 90 mm thick, 40 mm inside their ends (half a hand), and boxes up
 * to 120 mm thick at the middle of their long sides. Wheels and other discs turn in the hand and are dirty; shapes that the
 * caller names (chain, brakes, guards, lights, hardware) are not held either.
 * Of the places that move, the one with the longest way needs the least force. A place made for hands (grip, saddle) is taken
 * where its way is at least two thirds of that, as people do. All common practice, no source.
 * A part that the folded bicycle stands on, that carries no wheel and lies below the knee, is worked by a foot.
 * Not here: the other hand, which steadies the rest; from which side; whether a rider can reach it (`rider`).
 */
import { type FoldPlan, type LinkageWorkspace, poseAlong, postureLike } from '../linkage/index.ts';
import { add, at3, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';

export interface HandPlace {
  readonly shape: number;
  readonly body: number;
  /** Ride posture, m; posed by the body's motion. */
  readonly point: Vec3;
  /** Worked by a foot. */
  readonly foot: boolean;
  /** Length of its way during the move, m. */
  readonly way: number;
}
/** A place that a hand could hold. */
export interface GraspPoint {
  readonly shape: number;
  readonly body: number;
  readonly point: Vec3;
  /** Made for hands. */
  readonly meant: boolean;
}

/** Half thickness of the thickest tube, and of the thickest box, that a hand holds, m; half a hand’s breadth, m. */
const TUBE = 0.045;
const BOX = 0.06;
const HALF_HAND = 0.04;
/** Within this of a hub a hand is among spokes, m. */
const SPOKES = 0.08;
/** Share of the longest way that a place made for hands must have. */
const MEANT_SHARE = 2 / 3;
/** Below this a foot works it, m (knee height of a short woman 0.42 m). */
const FOOT_HEIGHT = 0.35;
/** Chords by which a way is measured: an arc of half a turn comes out 2.6 % short. */
const CHORDS = 4;

/** What grip and saddle are called among the shapes. */
const MEANT = /(^| )(grip_left|grip_right|saddle)$/;

/** Every place that a hand could hold, in the ride posture of `s`. `unfit`: shapes that nobody holds. */
export function graspPoints(m: Pick<Model, 'top' | 'wheels'>, s: State, unfit: ReadonlySet<number>): GraspPoint[] {
  const { nCapsule, nDisc, nBox, shapeBody, names } = m.top;
  const hubs = [m.wheels.front, m.wheels.rear].map((w) => at3(s.station, 3 * w.station));
  const out: GraspPoint[] = [];
  const put = (shape: number, point: Vec3): void => {
    if (hubs.some((hub) => norm(sub(point, hub)) < SPOKES)) return;
    out.push({ shape, body: shapeBody[shape]!, point, meant: MEANT.test(names.shapes[shape] ?? '') });
  };
  for (let i = 0; i < nCapsule; i++) {
    if (unfit.has(i) || s.capsule[7 * i + 6]! > TUBE) continue;
    const [a, b] = [at3(s.capsule, 7 * i), at3(s.capsule, 7 * i + 3)];
    const along = sub(b, a);
    const length = norm(along);
    if (length <= 2 * HALF_HAND) put(i, scale(add(a, b), 0.5));
    else for (const k of [HALF_HAND / length, 1 - HALF_HAND / length]) put(i, add(a, scale(along, k)));
  }
  for (let k = 0; k < nBox; k++) {
    const shape = nCapsule + nDisc + k;
    const half = at3(s.box, 15 * k + 12);
    if (unfit.has(shape) || Math.min(...half) > BOX) continue;
    const thin = half.indexOf(Math.min(...half));
    for (const axis of [0, 1, 2])
      if (axis !== thin)
        for (const side of [-1, 1])
          put(shape, add(at3(s.box, 15 * k), scale(at3(s.box, 15 * k + 3 + 3 * axis), side * half[axis]!)));
  }
  return out;
}

/**
 * The place for each motion of `plan` (from `planFold`); undefined where nothing that moves can be held.
 * @param unfit shapes that nobody holds
 */
export function handPlaces(
  m: Pick<Model, 'top' | 'standsOn' | 'wheels'>,
  s: State,
  plan: FoldPlan,
  unfit: ReadonlySet<number>,
  ws: LinkageWorkspace,
): (HandPlace | undefined)[] {
  const places = graspPoints(m, s, unfit);
  const here = postureLike(s);
  return plan.segments.map((segment, i) => {
    const moving = places.filter((p) => segment.moving[p.body] === 1);
    const way = new Float64Array(moving.length);
    const last = new Float64Array(3 * moving.length);
    for (let k = 0; k <= CHORDS; k++) {
      poseAlong(m, plan, i, (segment.reached * k) / CHORDS, here, ws);
      for (let j = 0; j < moving.length; j++) way[j]! += advance(here.bodyT, moving[j]!, last, 3 * j, k > 0);
    }
    const longest = Math.max(...way);
    let best = -1;
    for (let j = 0; j < moving.length; j++) {
      if (!(way[j]! > 0)) continue;
      if (best < 0 || better(moving[j]!, way[j]!, moving[best]!, way[best]!, longest)) best = j;
    }
    if (best < 0) return undefined;
    const { shape, body, point } = moving[best]!;
    return { shape, body, point, foot: footMoves(m, s, segment.moving), way: way[best]! };
  });
}

/** Poses a place, keeps where it is now at `o` of `last`, and returns how far it came from there (0 the first time). */
function advance(t: Float64Array, place: GraspPoint, last: Float64Array, o: number, counts: boolean): number {
  const { body, point: p } = place;
  let sum = 0;
  for (let c = 0; c < 3; c++) {
    const i = 12 * body + 4 * c;
    const x = t[i]! * p[0] + t[i + 1]! * p[1] + t[i + 2]! * p[2] + t[i + 3]!;
    const d = x - last[o + c]!;
    last[o + c] = x;
    sum += d * d;
  }
  return counts ? Math.sqrt(sum) : 0;
}

function better(a: GraspPoint, wayA: number, b: GraspPoint, wayB: number, longest: number): boolean {
  const [fitA, fitB] = [a.meant && wayA >= MEANT_SHARE * longest, b.meant && wayB >= MEANT_SHARE * longest];
  // a place that moves a hair's breadth farther is not another place: the first in order stays
  return fitA === fitB ? wayA > wayB * (1 + 1e-9) : fitA;
}

/** Whether a foot moves these bodies: a stand or prop. */
function footMoves(m: Pick<Model, 'top' | 'standsOn' | 'wheels'>, s: State, moving: Uint8Array): boolean {
  const { front, rear } = m.wheels;
  if (moving[front.body] === 1 || moving[rear.body] === 1) return false;
  return m.standsOn.some(
    (shape) =>
      moving[m.top.shapeBody[shape]!] === 1 &&
      shape < m.top.nCapsule &&
      Math.max(s.capsule[7 * shape + 2]!, s.capsule[7 * shape + 5]!) < FOOT_HEIGHT,
  );
}
