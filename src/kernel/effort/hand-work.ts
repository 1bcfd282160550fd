/**
 * A person at work beside a bicycle: where hand and feet are, and the motion elements that bring them to the next thing.
 *
 * Distances are those of the bicycle's posture, rounded to whole inches, so that the codes can be added up by hand. The person
 * stands beside the bicycle, goes along when a place is more than `ALONG` away, walks round when it lies low and more than
 * `ACROSS` beyond the mid-plane, bends when the hand must go more than `TILT` below where it hangs, and rises for anything higher.
 * One hand after the other: apart from the back that follows a led part, what a trained person overlaps is not taken off. All distances here: default, from memory.
 * Units m. Not here: what is done at the place (`lock-work`, `fold-time`).
 */
import { INCH, POUND } from '../math/constants.ts';
import { norm, sub, type Vec3 } from '../math/rigid.ts';
import type { ElementKind, TimedElement } from './handed-time.ts';
import { alongTable, weightAllowance } from './motion-code.ts';
import { FIXED, LEG, MOVE, REACH, TURN, WALK } from './motion-times.ts';

/** A pace of 30 in: 5.3 TMU/ft and 15 TMU/pace agree at 2.8 ft with a brisk pace, at 2.5 ft with an unhurried one. */
export const PACE = 0.762;

/** Along the bicycle from where one stands, without a step. */
const ALONG = 0.6;
/** Beyond the mid-plane: low down (an arm through the frame), and above the hanging hand (over the top). */
const ACROSS = { low: 0.2, high: 0.5 } as const;
/** A trunk tilted sideways by 20° lowers that hand by 0.1 m. */
const TILT = 0.1;
/** Where one stands and where the hand hangs, beside the mid-plane. */
const STAND_OFF = 0.45;
/** A bend brings the hand to so much above the place. */
const BENT_ABOVE = 0.3;
/** Walking round, so far outside the ends. */
const ROUND = 0.3;

export interface Worker {
  hand: Vec3;
  /** Where the person stands along x, and on which side (+1 left). */
  x: number;
  side: 1 | -1;
  bent: boolean;
  /** Height of the hanging hand. */
  readonly hangs: number;
  elements: TimedElement[];
}

/** Front and rear end of the bicycle along x in its posture. */
export type Ends = readonly [rear: number, front: number];

export const standingAt = (hand: Vec3, side: 1 | -1, hangs: number): Worker => ({
  hand,
  x: hand[0],
  side,
  bent: false,
  hangs,
  elements: [],
});
export const copyOf = (w: Worker): Worker => ({ ...w, elements: [] });
export const tmuOf = (elements: readonly TimedElement[]): number => elements.reduce((sum, e) => sum + e.tmu, 0);

/** An element with a time of its own. */
export function fixed(
  w: Worker,
  kind: ElementKind,
  code: string,
  what: string,
  hand: TimedElement['hand'] = 'one',
): void {
  const found = FIXED[code];
  if (!found) throw new RangeError(`no motion is called ${code}`);
  w.elements.push({ code, kind, tmu: found[0], what, hand });
}
const inchesOf = (length: number): number => Math.round(length / INCH);

export function reach(w: Worker, to: Vec3, what: string, hand: 'one' | 'both' = 'one'): void {
  const inches = inchesOf(norm(sub(to, w.hand)));
  const code = inches < 1 ? 'Rf' : `R${inches}B`;
  w.elements.push({ code, kind: 'reach', tmu: alongTable(REACH.B, inches), what, hand });
  w.hand = to;
}
/** A move over `length` with `mass` in all hands; the hand's new place is set by the caller. */
export function moveBy(
  w: Worker,
  length: number,
  kase: 'A' | 'B' | 'C',
  mass: number,
  what: string,
  hand: 'one' | 'both' = 'one',
  kind: ElementKind = 'move',
): void {
  const inches = inchesOf(length);
  const pounds = Math.round(mass / POUND / (hand === 'both' ? 2 : 1));
  const { factor, constant } = weightAllowance(pounds);
  const code = inches < 1 ? 'Mf' : `M${inches}${kase}${pounds > 2 ? pounds : ''}`;
  w.elements.push({ code, kind, tmu: constant + factor * alongTable(MOVE[kase], inches), what, hand });
}
/** The heaviest thing that the table lets two hands move, kg. */
export const HEAVIEST = 2 * 47 * POUND;

export function wrist(w: Worker, degrees: 90 | 180, size: 'S' | 'M' | 'L', what: string): void {
  w.elements.push({
    code: `T${degrees}${size}`,
    kind: 'lock',
    tmu: TURN[size][(degrees - 30) / 15]!,
    what,
    hand: 'one',
  });
}
export function leg(w: Worker, length: number, what: string): void {
  const inches = inchesOf(length);
  const tmu = LEG.tmu + LEG.beyond * Math.max(0, inches - LEG.first);
  w.elements.push({ code: inches > LEG.first ? `LM${inches}` : 'LM', kind: 'foot', tmu, what, hand: 'foot' });
}

const bodyMove = (w: Worker, code: string, tmu: number, what: string): void => {
  w.elements.push({ code, kind: 'body', tmu, what, hand: 'body' });
};
export function rise(w: Worker): void {
  if (!w.bent) return;
  fixed(w, 'body', 'AB', 'rise', 'body');
  w.bent = false;
  w.hand = [w.hand[0], w.hand[1], Math.max(w.hand[2], w.hangs)];
}
/** Bends or rises for a place of that height. */
export function stoopFor(w: Worker, height: number): void {
  if (height >= w.hangs - TILT) rise(w);
  if (height >= w.hangs - TILT || w.bent) return;
  fixed(w, 'body', 'B', 'bend', 'body');
  w.bent = true;
  w.hand = [w.hand[0], w.hand[1], Math.min(w.hand[2], height + BENT_ABOVE)];
}
function walk(w: Worker, distance: number, what: string): void {
  const paces = Math.max(1, Math.ceil(distance / PACE));
  bodyMove(w, `W${paces}P`, paces * WALK.P, what);
}

/** Goes where a hand or a foot can get at `place`. */
export function standFor(w: Worker, place: Vec3, ends: Ends): void {
  const low = place[2] < w.hangs - TILT;
  if (-place[1] * w.side > (low ? ACROSS.low : ACROSS.high)) {
    rise(w);
    const round = (end: number): number => Math.abs(w.x - end) + 2 * STAND_OFF + Math.abs(place[0] - end);
    fixed(w, 'body', 'TBC1', 'turn to go round', 'body');
    walk(w, Math.min(round(ends[0] - ROUND), round(ends[1] + ROUND)), 'walk round to the other side');
    fixed(w, 'body', 'TBC1', 'turn back to it', 'body');
    w.side = w.side === 1 ? -1 : 1;
    w.x = place[0];
    w.hand = [w.x, w.side * STAND_OFF, w.hangs];
  } else if (Math.abs(place[0] - w.x) > ALONG) {
    // one step to the next low place is made bent
    if (!low || Math.abs(place[0] - w.x) > PACE) rise(w);
    follow(w, place[0], 'step along');
  }
}
/** Steps along the bicycle; the hand goes with the body. */
function follow(w: Worker, x: number, what: string): void {
  walk(w, Math.abs(x - w.x), what);
  w.hand = [w.hand[0] + x - w.x, w.hand[1], w.hand[2]];
  w.x = x;
}
/** Stands, bends and reaches. */
export function goTo(w: Worker, place: Vec3, ends: Ends, what: string, hand: 'one' | 'both' = 'one'): void {
  standFor(w, place, ends);
  stoopFor(w, place[2]);
  reach(w, place, what, hand);
}
/**
 * The last move has led the hand to `end`: feet and back go along with it. Of motions made at once the longest counts, so they
 * cost what is left over the move; such codes stand in parentheses.
 */
export function ledTo(w: Worker, end: Vec3): void {
  let covered = w.elements.at(-1)?.tmu ?? 0;
  const first = w.elements.length;
  if (Math.abs(end[0] - w.x) > ALONG) follow(w, end[0], 'step along with it');
  stoopFor(w, end[2]);
  w.hand = end;
  for (let i = first; i < w.elements.length; i++) {
    const e = w.elements[i]!;
    const tmu = Math.max(0, e.tmu - covered);
    covered = Math.max(0, covered - e.tmu);
    w.elements[i] = { ...e, code: `(${e.code})`, tmu, what: `${e.what}, while leading` };
  }
}
