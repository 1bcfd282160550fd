/**
 * What a hand does to open and to shut a lock, by the mechanism that it works: elements of motion, once the hand is there.
 *
 *   toggle    take the lever, break it over its dead centre, swing it; shut: hook over, swing, press over the dead centre
 *   cam       the same with half a turn of the lever
 *   screw     three half turns with two new holds
 *   wedge     swing the lever, break the taper loose; shut: swing, press home
 *   plunger   pull the pin and keep it pulled: the other hand has to do the move
 *   pin       pull it out; shut: put it in, press home
 *   detent    nothing: the hand that does the move overcomes it (or the foot)
 * Every action beyond the first is a second catch: grasp, press, lift. When it is shut for riding one looks whether it is.
 * Ways of levers and numbers of turns: default, from memory.
 * Units m. Not here: hand force and preload (`frame/joint/mechanism`).
 */
import { fixed, moveBy, type Worker, wrist } from './hand-work.ts';

export type LockKind = 'none' | 'detent' | 'toggle' | 'cam' | 'screw' | 'wedge' | 'plunger' | 'pin';
export interface LockWork {
  readonly kind: LockKind;
  /** Lever of the hand, m. */
  readonly lever: number;
  /** Hand actions to release it. */
  readonly actions: number;
}
/** Swing of a lever under the hand, rad: toggles and wedges some 115°, cams half a turn. */
const SWING: Readonly<Partial<Record<LockKind, number>>> = { toggle: 2, wedge: 2, cam: Math.PI };
/** New holds of a screw's lever on the way. */
const HOLDS = 2;

/** Nothing for a hand to do before or after the move. */
export const worksAlone = (lock: LockWork): boolean => lock.kind === 'none' || lock.kind === 'detent';

function turnScrew(w: Worker, name: string): void {
  wrist(w, 180, 'M', `turn the lever of ${name}`);
  for (let i = 0; i < HOLDS; i++) {
    fixed(w, 'lock', 'RL1', 'let go for a new hold');
    wrist(w, 180, 'S', 'turn the empty hand back');
    fixed(w, 'lock', 'G1A', 'new hold');
    wrist(w, 180, 'M', `turn the lever of ${name} on`);
  }
}
const swing = (w: Worker, lock: LockWork, kase: 'A' | 'B', name: string): void =>
  moveBy(w, (SWING[lock.kind] ?? 1) * lock.lever, kase, 0, `swing the lever of ${name}`, 'one', 'lock');

/** Opens it; the hand is at its place. */
export function openLock(w: Worker, lock: LockWork, name: string): void {
  const { kind } = lock;
  if (worksAlone(lock)) return;
  for (let i = 1; i < lock.actions; i++) {
    fixed(w, 'grasp', 'G1B', `take the second catch of ${name}`);
    fixed(w, 'lock', 'APA', 'press it free');
    moveBy(w, 0.05, 'B', 0, 'lift it', 'one', 'lock');
    fixed(w, 'grasp', 'RL1', 'let go');
    fixed(w, 'grasp', 'G5', 'on to the lever');
  }
  fixed(w, 'grasp', kind === 'plunger' || kind === 'pin' ? 'G1B' : 'G1A', `take the lock of ${name}`);
  if (kind === 'screw') {
    fixed(w, 'lock', 'APA', 'break it loose');
    turnScrew(w, name);
  } else if (kind === 'plunger') {
    fixed(w, 'lock', 'APA', 'pull against the spring');
    fixed(w, 'lock', 'D1E', `draw the pin of ${name} and keep it drawn`);
    return;
  } else if (kind === 'pin') {
    fixed(w, 'lock', 'D2E', `draw the pin of ${name}`);
    moveBy(w, 0.1, 'B', 0, 'lay it aside on its ring', 'one', 'lock');
  } else {
    fixed(w, 'lock', 'APA', kind === 'wedge' ? 'press the lever' : 'over the dead centre');
    swing(w, lock, 'B', name);
    if (kind === 'wedge') fixed(w, 'lock', 'D3E', 'break the taper loose');
  }
  fixed(w, 'grasp', 'RL1', 'let go');
}

/** Shuts it; `riding`: in the ride posture, where one looks whether it is shut. */
export function shutLock(w: Worker, lock: LockWork, name: string, riding: boolean): void {
  const { kind } = lock;
  if (worksAlone(lock)) return;
  if (kind === 'plunger') fixed(w, 'lock', 'APA', `press until the pin of ${name} drops in`);
  else {
    fixed(w, 'grasp', kind === 'pin' ? 'G1B' : 'G1A', `take the lock of ${name}`);
    if (kind === 'toggle') fixed(w, 'lock', 'P1SE', 'hook it over');
    if (kind === 'pin') {
      moveBy(w, 0.1, 'C', 0, 'bring the pin', 'one', 'lock');
      fixed(w, 'lock', 'P2SE', 'put it in');
    } else if (kind === 'screw') turnScrew(w, name);
    else swing(w, lock, 'A', name);
    fixed(w, 'lock', 'APA', kind === 'toggle' || kind === 'cam' ? 'over the dead centre' : 'press home');
    fixed(w, 'grasp', 'RL1', 'let go');
  }
  if (riding) fixed(w, 'eye', 'EF', `look whether ${name} is shut`, 'body');
}
