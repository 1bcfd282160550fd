/** Quantities of hands: how hard they push and squeeze, who can, what falls by itself. */
import {
  BASIC_FORCES,
  CONDITIONAL_SHARE,
  forceBand,
  forceMultipliers,
  type OneWay,
  RARE_USE,
  RECOMMENDED_SHARE,
  STANDARD_GRAVITY,
} from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import {
  allLoads,
  type HandLoad,
  type HandledLatch,
  type HandledMove,
  type HandsResult,
  type MoveLoad,
} from '../run/hands.ts';
import { jointValue, moveNames, plainName } from '../words.ts';

const VIRTUAL_WORK = 'virtual work, theory; friction of joints default, from memory';
const STANDARD =
  'EN 1005-3:2002+A1:2008 (basic forces as printed, multipliers from memory); women and men apart by Leyk et al. 2007';
const MOVE_STEPS = [
  'A hand takes the grips or the saddle where they move with the part, else the place of it with the longest way; a stand is worked by a foot. Body 0 is kept still in the ride posture on level ground.',
  'At 13 postures of the move: change of potential energy of all bodies that move, followers of loops included, plus friction of the joints by what they carry, over the way of the hand; folding and unfolding.',
];
const ABLE_STEPS = [
  'Level forces against the pull of somebody who stands, upward and downward ones against one arm, stands against an ankle; the force is shared by both arms where a stand is down, else one arm steadies the bicycle.',
  'Share of the brief’s women and men whose strength, at the speed of a moving part, reaches it.',
];
const FORCE_VALID =
  'slow hands, level ground, greased joints; springs, jams and wind are not in it; adults of working age: children, the old and the ill are weaker than the standard’s percentiles';
/** Lever arms ± 5 %, friction a factor 2; default, from memory. */
const FORCE_SHARE = 0.08;
const FORCE_FLOOR = 1.5;
/** Latch forces vary with grease and setting; default, from memory. */
const LATCH_SHARE = 0.25;
const ABLE_SPREAD = 0.03;
const HAND_CAUTION =
  'A force that few cannot do is still too high for somebody; a lock that is closed with too little force does not hold. Prototypes are tried by people with weak hands.';
export const CRUSH_CAUTION =
  'A part that falls hurts a hand below it, and fingers have been lost in hinges of folding things. The figure is a prediction: guards, stops and springs are tried on prototypes.';

const result = (r: Results): HandsResult => r.hands!;
const folds = (r: Results, read: () => number | Absent): number | Absent =>
  r.model.fold.length === 0 ? absent('this bicycle does not fold') : read();

export const moveOf = (r: Results, slot: string): HandledMove | undefined => {
  const at = r.model.fold.map((_, i) => i).filter((i) => r.model.fold[i]!.to >= 0)[moveNames(r.model).indexOf(slot)];
  return result(r).moves.find((m) => m?.move === at);
};
const ofMove = (r: Results, slot: string, read: (m: HandledMove) => number): number | Absent => {
  const move = moveOf(r, slot);
  return move ? read(move) : absent('nothing moves there that a hand could hold');
};
const latchOf = (r: Results, slot: string): HandledLatch | undefined =>
  result(r).latches.find((l) => r.model.top.names.joints[l.joint] === slot);
const ofLatch = (r: Results, slot: string, read: (loads: readonly HandLoad[]) => number): number | Absent => {
  const latch = latchOf(r, slot);
  if (!latch) return absent('no lock is closed by hand there');
  const loads = [latch.closing, latch.opening].filter((l) => l !== undefined);
  return loads.length ? read(loads) : absent('neither a principle of the joint shelf nor a hand force is given for it');
};

/** `holds back while folding, at main 83°, hand at handlebar grip right, 0.94 m high`. */
function placeWords(r: Results, move: HandledMove, load: MoveLoad): string {
  const { names } = r.model.top;
  const at = jointValue(r.model, move.joint, move.q[load.sample]!);
  return `${load.does} while ${load.way}ing, at ${at}; ${move.place.foot ? 'foot' : 'hand'} at ${plainName(names.shapes[move.place.shape] ?? '?')}, ${move.height[load.sample]!.toFixed(2)} m high`;
}
const loadWords = (load: HandLoad): string =>
  `${load.force.toFixed(1)} N${load.hands === 2 ? ', half to each arm' : ''} (${BASIC_FORCES[load.strength].words}): ${forceBand(load.risk)}, ${load.risk.toFixed(2)} of the standard’s limit`;

const least = (r: Results): { what: string; load: HandLoad } | undefined =>
  allLoads(result(r), r.model.top.names).reduce<{ what: string; load: HandLoad } | undefined>(
    (a, b) => (!a || b.load.able < a.load.able || (b.load.able === a.load.able && b.load.risk > a.load.risk) ? b : a),
    undefined,
  );
const riskiest = (r: Results): { what: string; load: HandLoad } | undefined =>
  allLoads(result(r), r.model.top.names).reduce<{ what: string; load: HandLoad } | undefined>(
    (a, b) => (!a || b.load.risk > a.load.risk ? b : a),
    undefined,
  );
/** Locks of which nothing is known: their force is in no figure. */
const unknown = (r: Results): string | undefined => {
  const names = result(r)
    .latches.filter((l) => !l.closing)
    .map((l) => plainName(r.model.top.names.joints[l.joint]!));
  return names.length ? `not in it: ${names.join(', ')}, of which the file gives no force` : undefined;
};

interface Fall {
  readonly move: HandledMove;
  readonly way: 'fold' | 'unfold';
  readonly run: OneWay;
}
const worstFall = (r: Results): Fall | undefined =>
  result(r)
    .moves.flatMap((move): Fall[] =>
      move ? (['fold', 'unfold'] as const).map((way) => ({ move, way, run: move[way] })) : [],
    )
    .reduce<Fall | undefined>((a, b) => (!a || b.run.runaway > a.run.runaway ? b : a), undefined);

const LATCH_STEPS = [
  'The lock’s mechanism with its lever, its stack of stiffness and its preload: the greatest moment on the way in, and what it takes to reopen (kernel/frame/joint/mechanism). Where the file names no principle, its hand force.',
];

export const HANDS_FAMILIES: readonly Family[] = [
  {
    id: 'hands.able',
    title: 'users able to fold and unfold it',
    symbol: 'p_h',
    unit: '%',
    meaning: 'share of users strong enough for every move and every lock: that of the hardest one',
    tier: 'drag',
    needs: ['hands'],
    slots: single,
    read: (r) => folds(r, () => least(r)?.load.able ?? absent('no move or lock with a known force')),
    steps: [...MOVE_STEPS, ...ABLE_STEPS, 'The least share over all moves and locks.'],
    source: STANDARD,
    standing: 'published',
    valid: FORCE_VALID,
    spread: () => ABLE_SPREAD,
    caution: HAND_CAUTION,
    note: (r) => {
      const worst = least(r);
      return (
        [worst && `${plainName(worst.what)}: ${loadWords(worst.load)}`, unknown(r)].filter(Boolean).join('; ') ||
        undefined
      );
    },
  },
  {
    id: 'hands.use',
    title: 'use of the hand-force limit',
    symbol: 'r',
    unit: '',
    meaning: 'greatest force of a move or lock over what EN 1005-3 gives the brief’s users: up to 0.5 recommended',
    tier: 'drag',
    needs: ['hands'],
    slots: single,
    read: (r) => folds(r, () => riskiest(r)?.load.risk ?? absent('no move or lock with a known force')),
    formula: 'F/(n*F_B*m_v)',
    inputs: (r) => {
      const load = riskiest(r)?.load;
      return [
        { symbol: 'F', meaning: 'force on all hands together', value: load?.force ?? Number.NaN, unit: 'N' },
        { symbol: 'n', meaning: 'arms that share it', value: load?.hands ?? 1, unit: '' },
        {
          symbol: 'F_B',
          meaning: 'basic force of the brief’s users (P1 at home, P15 at work)',
          value: load ? BASIC_FORCES[load.strength][r.setting.people.hands] : Number.NaN,
          unit: 'N',
        },
        { symbol: 'm_v', meaning: 'the part moves', value: forceMultipliers(RARE_USE).velocity, unit: '' },
      ];
    },
    source: 'EN 1005-3:2002+A1:2008; basic forces as printed, multiplier from memory',
    standing: 'published',
    valid: FORCE_VALID,
    spread: (r) => LATCH_SHARE * (riskiest(r)?.load.risk ?? 0),
    caution: HAND_CAUTION,
    note: (r) => {
      const worst = riskiest(r);
      return (
        worst &&
        `${plainName(worst.what)}; up to ${RECOMMENDED_SHARE} recommended, to ${CONDITIONAL_SHARE} conditional, above to be avoided`
      );
    },
  },
  {
    id: 'hands.greatest_force',
    title: 'greatest hand force of a move',
    symbol: 'F_h',
    unit: 'N',
    meaning: 'greatest push, pull or holding back along any move, folding or unfolding',
    tier: 'drag',
    needs: ['hands'],
    slots: single,
    read: (r) => folds(r, () => strongest(r)?.greatest.force ?? absent('nothing moves that a hand could hold')),
    steps: MOVE_STEPS,
    source: VIRTUAL_WORK,
    standing: 'published',
    valid: FORCE_VALID,
    spread: (r) => FORCE_FLOOR + FORCE_SHARE * (strongest(r)?.greatest.force ?? 0),
    caution: HAND_CAUTION,
    note: (r) => {
      const move = strongest(r);
      return move && `${plainName(r.model.top.names.joints[move.joint]!)}: ${placeWords(r, move, move.greatest)}`;
    },
  },
  {
    id: 'hands.move.{move}.force',
    title: 'hand force of a move',
    symbol: 'F_i',
    unit: 'N',
    meaning: 'greatest push, pull or holding back along one move, folding or unfolding',
    tier: 'drag',
    needs: ['hands'],
    slots: (names) => names.moves,
    read: (r, slot) => ofMove(r, slot, (m) => m.greatest.force),
    steps: MOVE_STEPS,
    source: VIRTUAL_WORK,
    standing: 'published',
    valid: FORCE_VALID,
    spread: (r, slot) => FORCE_FLOOR + FORCE_SHARE * (moveOf(r, slot)?.greatest.force ?? 0),
    caution: HAND_CAUTION,
    note: (r, slot) => {
      const move = moveOf(r, slot);
      if (!move) return undefined;
      const latch = latchOf(r, r.model.top.names.joints[move.joint]!);
      const detent =
        latch?.kind === 'detent' && latch.close > 0 ? `; its detent asks for ${latch.close.toFixed(0)} N before` : '';
      const other =
        move.steady.force > 0
          ? `; the other hand holds up ${move.steady.force.toFixed(0)} N (${(move.steady.force / STANDARD_GRAVITY).toFixed(1)} kg) at the ${plainName(r.model.top.names.stations[move.steady.station] ?? '?')} meanwhile`
          : '';
      return placeWords(r, move, move.greatest) + detent + other;
    },
  },
  {
    id: 'hands.move.{move}.able',
    title: 'users able to do a move',
    symbol: 'p_i',
    unit: '%',
    meaning: 'share of users strong enough for one move, folding and unfolding',
    tier: 'drag',
    needs: ['hands'],
    slots: (names) => names.moves,
    read: (r, slot) => ofMove(r, slot, (m) => m.hardest.able),
    steps: [...MOVE_STEPS, ...ABLE_STEPS],
    source: STANDARD,
    standing: 'published',
    valid: FORCE_VALID,
    spread: () => ABLE_SPREAD,
    caution: HAND_CAUTION,
    note: (r, slot) => {
      const move = moveOf(r, slot);
      return move && loadWords(move.hardest);
    },
  },
  {
    id: 'hands.latch.{joint}.force',
    title: 'hand force of a lock',
    symbol: 'F_l',
    unit: 'N',
    meaning: 'greater of the hand forces that close and reopen a lock',
    tier: 'drag',
    needs: ['hands'],
    slots: (names) => names.joints,
    read: (r, slot) => ofLatch(r, slot, (loads) => Math.max(...loads.map((l) => l.force))),
    steps: LATCH_STEPS,
    source: 'virtual work on the mechanism, theory; sizes, friction and stack of the joint shelf: default, from memory',
    standing: 'memory',
    valid: 'greased, set as drawn; grit, wear and cold hands ask for more',
    spread: (r, slot) => {
      const l = latchOf(r, slot);
      return LATCH_SHARE * Math.max(l?.closing?.force ?? 0, l?.opening?.force ?? 0);
    },
    caution: HAND_CAUTION,
    note: (r, slot) => {
      const l = latchOf(r, slot);
      if (!l?.closing) return undefined;
      if (l.kind === 'detent') return 'a detent: the hand or foot that moves the part overcomes it';
      if (l.kind === 'given') return 'as the file gives it; the file names no principle to compute it from';
      const clamps = Number.isFinite(l.preload) ? `, clamps with ${(l.preload / 1000).toFixed(2)} kN` : '';
      return `closing ${l.close.toFixed(0)} N, reopening ${l.reopen.toFixed(0)} N${clamps}`;
    },
  },
  {
    id: 'hands.latch.{joint}.able',
    title: 'users able to work a lock',
    symbol: 'p_l',
    unit: '%',
    meaning: 'share of users strong enough to close and to reopen a lock',
    tier: 'drag',
    needs: ['hands'],
    slots: (names) => names.joints,
    read: (r, slot) => ofLatch(r, slot, (loads) => Math.min(...loads.map((l) => l.able))),
    steps: [
      ...LATCH_STEPS,
      'Levers of toggles and eccentrics are squeezed; those of screws and wedges are pushed, plungers pulled, while the other hand holds the frame.',
      'Share of the brief’s women and men whose strength reaches it.',
    ],
    source: STANDARD,
    standing: 'published',
    valid: `${FORCE_VALID}; a pinch between fingertips, which the standard does not give, is weaker than a grip`,
    spread: () => ABLE_SPREAD,
    caution: HAND_CAUTION,
    note: (r, slot) => {
      const l = latchOf(r, slot);
      return l?.closing && `closing ${loadWords(l.closing)}`;
    },
  },
  {
    id: 'hands.runaway',
    title: 'energy of a part that falls',
    symbol: 'E_f',
    unit: 'J',
    meaning: 'greatest energy with which a released part moves on by itself when nobody holds it',
    tier: 'drag',
    needs: ['hands'],
    slots: single,
    read: (r) => folds(r, () => worstFall(r)?.run.runaway ?? absent('nothing moves that a hand could hold')),
    steps: [
      ...MOVE_STEPS,
      'Where gravity does more than friction takes, the part runs: the greatest sum of the difference over any stretch of the move.',
    ],
    source: `${VIRTUAL_WORK}; ISO 14120:2015, 5.2.5.2 lets powered guards close with 4 J (10 J where they reopen at a touch; both from memory)`,
    standing: 'published',
    valid: 'level ground, body 0 held still; springs and detents that hold a part are not in it',
    spread: (r) => 0.15 * (worstFall(r)?.run.runaway ?? 0) + 0.2,
    caution: CRUSH_CAUTION,
    note: (r) => {
      const worst = worstFall(r);
      if (!worst || !(worst.run.runaway > 0)) return 'nothing moves by itself';
      return `${plainName(r.model.top.names.joints[worst.move.joint]!)} while ${worst.way}ing, up to ${worst.run.runawaySpeed.toFixed(1)} m/s at the hand’s place`;
    },
  },
];

const strongest = (r: Results): HandledMove | undefined =>
  result(r).moves.reduce<HandledMove | undefined>(
    (a, b) => (b && (!a || b.greatest.force > a.greatest.force) ? b : a),
    undefined,
  );
