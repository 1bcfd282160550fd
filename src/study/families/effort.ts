/** Quantities of folding by hand: seconds, bends, grips; and of carrying by what a hand can hold. Lifts: effort-lift.ts. */
import {
  type CarryShare,
  type CarryWay,
  carryShare,
  type ElementKind,
  FIRST_TIME,
  type HandledTime,
  ONE_HAND_LIMIT,
  STANDARD_GRAVITY,
} from '#kernel';
import type { Absent, Family, Input } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';

const TIMES =
  'times: predetermined motion times (table in inches, as printed in university work-measurement handouts); which motions it takes: ours';
const TRAINED =
  'a trained, healthy adult beside a bicycle that stands by itself or is steadied by the other hand; no bags, gloves or crowd; one hand after the other';
const KINDS: readonly (readonly [ElementKind, string, string])[] = [
  ['reach', 't_r', 'reaching'],
  ['grasp', 't_g', 'taking hold and letting go'],
  ['lock', 't_l', 'work on locks and catches'],
  ['move', 't_m', 'leading the parts'],
  ['body', 't_b', 'bending, rising, walking'],
  ['foot', 't_f', 'work of a foot'],
  ['eye', 't_e', 'looking whether it is shut'],
];
const shares = (time: HandledTime): readonly Input[] =>
  KINDS.map(([kind, symbol, meaning]) => ({ symbol, meaning, value: time.shares[kind], unit: 's' }));
const SUM = KINDS.map(([, symbol]) => symbol).join(' + ');

/** Sequence of motions and the person: about a fifth (judgement). */
const spreadOf = (time: HandledTime): number => 0.2 * time.seconds;
const folding = (r: Results, read: () => number): number | Absent =>
  r.model.fold.length === 0 ? absent('this bicycle does not fold') : read();

/** `longest: turn bar hinge, 4.1 s`. */
const longest = (time: HandledTime): string | undefined => {
  const step = time.steps.reduce<HandledTime['steps'][number] | undefined>(
    (a, b) => (!a || b.seconds > a.seconds ? b : a),
    undefined,
  );
  return (
    step &&
    `longest step: ${step.words}, ${step.seconds.toFixed(1)} s; ${time.bends} bends, ${time.walks} times round the bicycle`
  );
};

const seconds = (id: string, title: string, way: 'fold' | 'unfold', meaning: string): Family => ({
  id,
  title,
  symbol: way === 'fold' ? 't_fold' : 't_unfold',
  unit: 's',
  meaning,
  tier: 'drag',
  needs: ['effort'],
  slots: single,
  read: (r) => folding(r, () => r.effort![way].seconds),
  formula: SUM,
  inputs: (r) => shares(r.effort![way]),
  source: TIMES,
  standing: 'published',
  valid: TRAINED,
  spread: (r) => spreadOf(r.effort![way]),
  note: (r) => longest(r.effort![way]),
});
const count = (
  id: string,
  title: string,
  symbol: string,
  meaning: string,
  step: string,
  read: (time: HandledTime) => number,
): Family => ({
  id,
  title,
  symbol,
  unit: '',
  meaning,
  tier: 'drag',
  needs: ['effort'],
  slots: single,
  read: (r) => folding(r, () => read(r.effort!.fold)),
  steps: [step],
  source: 'our definition; heights of hands from ANSUR II (Gordon et al. 2014)',
  standing: 'definition',
  valid: TRAINED,
  spread: () => 1,
});

/** The brief's way in the hand: what does not roll is carried there too. */
const inHand = (r: Results): CarryWay => {
  const { journey } = r.setting;
  return r.burden!.rolls ? journey : { ...journey, carry: journey.carry + journey.roll };
};
const carry = (r: Results): CarryShare => carryShare(r.mass!.whole.mass, inHand(r), r.setting.people.women);
/** ± one standard deviation of the mass, and what is not known of the users (judgement). */
const carrySpread = (r: Results, pick: (c: CarryShare) => number): number => {
  const { whole, sigma } = r.mass!;
  const at = (mass: number): number => pick(carryShare(mass, inHand(r), r.setting.people.women));
  return 0.05 + Math.abs(at(whole.mass + sigma) - at(whole.mass - sigma)) / 2;
};

export const EFFORT_FAMILIES: readonly Family[] = [
  seconds(
    'effort.fold_seconds',
    'time to fold',
    'fold',
    'seconds of a trained hand from the bar in the hand to the folded package',
  ),
  seconds(
    'effort.unfold_seconds',
    'time to unfold',
    'unfold',
    'seconds of a trained hand from the package on the floor to all locks shut and looked at',
  ),
  {
    id: 'effort.first_time_seconds',
    title: 'time to fold for the first time',
    symbol: 't_1',
    unit: 's',
    meaning: 'seconds of somebody who has been shown it once: upper end of the range',
    tier: 'drag',
    needs: ['effort'],
    slots: single,
    read: (r) => folding(r, () => r.effort!.fold.firstTime[1]),
    formula: 'k*t_fold',
    inputs: (r) => [
      { symbol: 'k', meaning: 'first attempts over trained ones, upper end', value: FIRST_TIME[1], unit: '' },
      { symbol: 't_fold', meaning: 'time of a trained hand', value: r.effort!.fold.seconds, unit: 's' },
    ],
    source: `${TIMES}; factor ${FIRST_TIME[0]} to ${FIRST_TIME[1]}: judgement`,
    standing: 'memory',
    valid: `${TRAINED}; whoever has to find out unaided takes minutes`,
    spread: (r) => 0.3 * r.effort!.fold.firstTime[1],
    note: (r) => {
      const [low, high] = r.effort!.fold.firstTime;
      return `${low.toFixed(0)} to ${high.toFixed(0)} s`;
    },
  },
  count(
    'effort.bends',
    'bends',
    'n_b',
    'how often the back bends while folding',
    'Every time the hand must go more than 0.1 m below where the usual rider’s hand hangs, from upright.',
    (t) => t.bends,
  ),
  count(
    'effort.grip_changes',
    'changes of grip',
    'n_g',
    'how often a hand lets go of one thing and takes another while folding',
    'Holds taken in the procedure, less the first.',
    (t) => t.gripChanges,
  ),
  count(
    'effort.two_hand_moves',
    'moves for two hands',
    'n_2',
    'moves of the fold for which one hand is not enough',
    'Moves that put more than 4 kg on the hand: what it lifts, or what it sets moving, at the hold that costs least time.',
    (t) => t.twoHandMoves,
  ),
  {
    id: 'effort.carry_able',
    title: 'users whose grip lasts',
    symbol: 'p_c',
    unit: '%',
    meaning: 'share of users who can carry the bicycle in one hand from one rest of the brief’s way to the next',
    tier: 'settle',
    needs: ['mass', 'burden'],
    slots: single,
    read: (r) => carry(r).able,
    steps: [
      'Longest stretch of the brief’s stairs and level way without a rest, at the pace of the trip: 1.25 m/s and 0.40 m/s along the stairs.',
      'Share of the greatest grip that lasts so long (Rohmert 1960); grip that the weight then asks for, at least 1.5 times the weight.',
      'Share of women and men whose grip is that strong (EN 1005-3 percentiles, women to men after Leyk et al. 2007).',
    ],
    source:
      'EN 1005-3:2002+A1:2008; Leyk et al. 2007, Eur. J. Appl. Physiol. 99:415; W. Rohmert 1960, formula from memory; pace: default, from memory',
    standing: 'memory',
    valid: 'adults of working age, a handle that suits the hand; the bicycle alone, without luggage',
    spread: (r) => carrySpread(r, (c) => c.able),
    caution: 'Holding on is not carrying safely: on stairs one hand belongs to the rail.',
    note: (r) => {
      const c = carry(r);
      const why = c.lasting < 2 / 3 ? 'so that it lasts' : 'for the pull at each step, 1.5 times the weight';
      return `${c.stretch.toFixed(0)} s in one go${r.burden!.rolls ? '' : ', rolling nowhere'}; a grip of ${c.grip.toFixed(0)} N is needed ${why}`;
    },
  },
  {
    id: 'effort.carry_recommended',
    title: 'users within the recommended load of one hand',
    symbol: 'p_r',
    unit: '%',
    meaning: 'share of users for whom its weight is within what is recommended to be carried in one hand',
    tier: 'settle',
    needs: ['mass', 'burden'],
    slots: single,
    read: (r) => carry(r).recommended,
    steps: [
      `Recommended: 9–10 kg for men, 6–7 kg for women; the middle, ${ONE_HAND_LIMIT.male} and ${ONE_HAND_LIMIT.female} kg, taken as what 75 % of each accept (judgement).`,
      'Accepted loads lognormal, with the spread that gives the lifting limits of women and men.',
    ],
    source: 'review of 26 papers on one-handed carrying, 2018 (PubMed 29708048); Waters et al. 1993 for the spread',
    standing: 'published',
    valid: 'adults at work; a short, rare carry may exceed it',
    spread: (r) => carrySpread(r, (c) => c.recommended),
    caution: 'More in one hand bends the spine: 30 kg there press it by more than 2.8 kN (McGill et al. 2013).',
    note: (r) => `${r.mass!.whole.mass.toFixed(1)} kg, ${(r.mass!.whole.mass * STANDARD_GRAVITY).toFixed(0)} N`,
  },
];
