/**
 * Motion codes and their times: `R16C` is a reach of 16 in, case C; `M10B5` a move of 10 in, case B, with 5 lb in the hand.
 *
 * Reach and move times lie straight between the rows of the table; moves with a weight take constant + factor × the time
 * without. A lift with two hands puts half the weight into each.
 *   R16C M10B Rf Mf   reach, move; f: at most 3/4 in          T90S          turn by 30-180 deg, small, medium, large
 *   G1A … RL1 APA     grasp, release, apply pressure          P1NSE D2E     position, disengage
 *   B AB S KBK SIT …  body                                    W4P W4PO W9FT walk: paces, with a load, feet
 *   LM LM12 SS16C1    leg, side step; inches                  FM FMP        foot
 *   EF ET14/20        look closely, look over from one point to another
 * Source: see motion-times.ts.
 */
import {
  DISTANCES,
  type DistanceRow,
  EYE_TRAVEL,
  FIXED,
  LEG,
  MOVE,
  MOVE_WEIGHTS,
  REACH,
  SIDE_STEP,
  TURN,
  WALK,
} from './motion-times.ts';

export interface Motion {
  readonly code: string;
  readonly tmu: number;
  readonly words: string;
}
export interface MotionLoad {
  /** lb, in all. */
  readonly pounds?: number;
  /** Hands that share it; one. */
  readonly hands?: 1 | 2;
}

/** Codes with one time, and one of each form with a number: what an unknown code is compared with. */
export const MOTION_CODES: readonly string[] = [
  ...Object.keys(FIXED),
  ...['A', 'B', 'C', 'D', 'E'].map((c) => `R10${c}`),
  ...['A', 'B', 'C'].map((c) => `M10${c}`),
  ...['S', 'M', 'L'].map((c) => `T90${c}`),
  'W4P',
  'W4PO',
  'W9FT',
  'LM',
  'LM12',
  'SS16C1',
  'SS16C2',
  'ET14/20',
];

/** TMU of a reach or move over `inches`. */
export function alongTable(row: DistanceRow, inches: number): number {
  const last = DISTANCES.length - 1;
  if (inches <= DISTANCES[0]) return row.tmu[0]!;
  if (inches >= DISTANCES[last]!) return row.tmu[last]! + row.beyond * (inches - DISTANCES[last]!);
  const i = DISTANCES.findIndex((d) => d >= inches);
  const share = (inches - DISTANCES[i - 1]!) / (DISTANCES[i]! - DISTANCES[i - 1]!);
  return row.tmu[i - 1]! + share * (row.tmu[i]! - row.tmu[i - 1]!);
}

/** Constant and factor for a weight per hand. @throws RangeError beyond 47.5 lb, where the table ends. */
export function weightAllowance(poundsPerHand: number): { readonly factor: number; readonly constant: number } {
  const found = MOVE_WEIGHTS.find(([most]) => poundsPerHand <= most);
  if (!(poundsPerHand >= 0) || !found)
    throw new RangeError(`a hand moves 0 to 47.5 lb in the table of motion times, got ${poundsPerHand} lb`);
  return { factor: found[1], constant: found[2] };
}

const stepTime = (s: { readonly first: number; readonly tmu: number; readonly beyond: number }, inches: number) =>
  s.tmu + s.beyond * Math.max(0, inches - s.first);

const NUMBER = '(\\d+(?:\\.\\d+)?)';
const pattern = (text: string): RegExp => new RegExp(`^${text}$`);
const REACH_CODE = pattern(`R(?:f|${NUMBER})([A-E])?`);
const MOVE_CODE = pattern(`M(?:f|${NUMBER})([A-C])?${NUMBER}?`);
const TURN_CODE = pattern(`T${NUMBER}([SML])`);
const WALK_CODE = pattern('W(\\d+)(PO|P|FT)');
const LEG_CODE = pattern(`LM${NUMBER}?`);
const SIDE_CODE = pattern(`SS${NUMBER}(C[12])`);
const EYE_CODE = pattern(`ET${NUMBER}/${NUMBER}`);

/**
 * Time and words of one motion. `load` belongs to moves alone; a weight may stand in the code (lb) instead.
 * @throws RangeError for a code that is none, or a number outside the table.
 */
export function motion(code: string, load: MotionLoad = {}): Motion {
  const moved = MOVE_CODE.exec(code);
  if (moved) return move(code, moved, load);
  if (load.pounds !== undefined && load.pounds !== 0)
    throw new RangeError(`${code} takes no weight: only moves (M10B) do`);
  const tmuAndWords = other(code);
  if (!tmuAndWords) throw new RangeError(`no motion is called ${code}`);
  return { code, tmu: tmuAndWords[0], words: tmuAndWords[1] };
}

function move(code: string, [, inches, kind, inCode]: RegExpExecArray, load: MotionLoad): Motion {
  if (inches !== undefined && kind === undefined)
    throw new RangeError(
      `a move says its case: ${code}A against a stop, ${code}B roughly there, ${code}C exactly there`,
    );
  const pounds = load.pounds ?? Number(inCode ?? 0);
  if (load.pounds !== undefined && inCode !== undefined && load.pounds !== Number(inCode))
    throw new RangeError(`${code} says ${inCode} lb and its load ${load.pounds} lb`);
  const { factor, constant } = weightAllowance(pounds / (load.hands ?? 1));
  const bare = alongTable(MOVE[(kind ?? 'B') as keyof typeof MOVE], Number(inches ?? 0));
  const weight = pounds > 0 ? ` with ${pounds} lb${load.hands === 2 ? ' in two hands' : ''}` : '';
  return { code, tmu: constant + factor * bare, words: `move ${inches ?? 'a little'}${inches ? ' in' : ''}${weight}` };
}

function other(code: string): readonly [number, string] | undefined {
  if (Object.hasOwn(FIXED, code)) return FIXED[code];
  const reach = REACH_CODE.exec(code);
  if (reach) {
    const [, inches, kind] = reach;
    if (inches !== undefined && kind === undefined)
      throw new RangeError(
        `a reach says its case: ${code}A to a known place, ${code}B to one thing, ${code}C among others`,
      );
    const row = REACH[(kind ?? 'A') as keyof typeof REACH];
    return [alongTable(row, Number(inches ?? 0)), `reach ${inches === undefined ? 'a little' : `${inches} in`}`];
  }
  const turn = TURN_CODE.exec(code);
  if (turn) return turned(Number(turn[1]), turn[2] as keyof typeof TURN);
  const walk = WALK_CODE.exec(code);
  if (walk) {
    const unit = walk[2] as keyof typeof WALK;
    return [Number(walk[1]) * WALK[unit], `walk ${walk[1]} ${unit === 'FT' ? 'ft' : 'paces'}`];
  }
  const leg = LEG_CODE.exec(code);
  if (leg) return [stepTime(LEG, Number(leg[1] ?? 0)), 'move a leg'];
  const side = SIDE_CODE.exec(code);
  if (side) return [stepTime(SIDE_STEP[side[2] as keyof typeof SIDE_STEP], Number(side[1])), 'step aside'];
  const eye = EYE_CODE.exec(code);
  if (eye) {
    const [apart, away] = [Number(eye[1]), Number(eye[2])];
    if (!(away > 0)) throw new RangeError(`${code}: the eyes are not at the work`);
    return [Math.min(EYE_TRAVEL.most, (EYE_TRAVEL.factor * apart) / away), 'look over'];
  }
  return undefined;
}

function turned(degrees: number, size: keyof typeof TURN): readonly [number, string] {
  if (!(degrees >= 30 && degrees <= 180)) throw new RangeError(`a turn is 30 to 180 deg, got ${degrees}`);
  const row = TURN[size];
  const at = (degrees - 30) / 15;
  const i = Math.min(row.length - 2, Math.floor(at));
  return [row[i]! + (at - i) * (row[i + 1]! - row[i]!), `turn by ${degrees} deg`];
}
