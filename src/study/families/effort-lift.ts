/** Quantities of lifting, carrying and rolling the folded package. */
import { MULTIPLIERS, ROLLING_LEVER, STANDARD_GRAVITY } from '#kernel';
import type { Absent, Family, Input } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { LiftResult } from '../run/burden.ts';

const NIOSH = 'T. R. Waters, V. Putz-Anderson, A. Garg: NIOSH 94-110 (1994, rev. 2021), revised lifting equation';
const TWO_HANDS =
  'two-handed, smooth lifts of a healthy adult who stands firmly and faces the place; not for one hand, not for carrying or swinging it up';
const LIFT_CAUTION =
  'The equation rates work for healthy backs; a lift over an edge in a moving vehicle is harder than its number.';

const liftOf = (r: Results, slot: string): LiftResult | undefined => r.burden!.lifts.find((l) => l.name === slot);
const lifted = (r: Results, slot: string, read: (l: LiftResult) => number): number | Absent => {
  const lift = liftOf(r, slot);
  if (!lift) return absent(`the brief has no lift ${slot}`);
  if (lift.limits.limit > 0) return read(lift);
  const end = lift.limits.worst === 'destination' ? lift.limits.destination! : lift.limits.origin;
  return absent(`outside the lifting equation: ${end.outside}`);
};
const holdNote = (r: Results, slot: string): string | undefined => {
  const lift = liftOf(r, slot);
  return (
    lift &&
    `${(1000 * lift.rise).toFixed(0)} mm up, held ${(1000 * lift.hold).toFixed(0)} mm over its foot; limit ${lift.limits.limit.toFixed(1)} kg at the ${lift.limits.worst}`
  );
};
const worstInputs = (r: Results, slot: string): readonly Input[] => {
  const lift = liftOf(r, slot)!;
  const { origin, destination, worst } = lift.limits;
  const end = worst === 'destination' ? destination! : origin;
  return [
    { symbol: 'm', meaning: 'mass of the bicycle', value: lift.mass, unit: 'kg' },
    { symbol: 'LC', meaning: 'load constant', value: 23, unit: 'kg' },
    ...MULTIPLIERS.map((name) => ({
      symbol: name,
      meaning: {
        HM: 'reach',
        VM: 'height of the hands',
        DM: 'way up',
        AM: 'turn of the body',
        FM: 'how often',
        CM: 'hold',
      }[name],
      value: end.multipliers[name],
      unit: '',
    })),
  ];
};

export const EFFORT_LIFT_FAMILIES: readonly Family[] = [
  {
    id: 'effort.lift.{lift}.index',
    title: 'lifting index',
    symbol: 'LI',
    unit: '',
    meaning:
      'mass over the recommended limit of that lift with two hands; above 1 it is too heavy for part of the users',
    tier: 'settle',
    needs: ['burden'],
    slots: (names) => names.lifts,
    read: (r, slot) => lifted(r, slot, (l) => l.index),
    formula: 'm/(LC*HM*VM*DM*AM*FM*CM)',
    inputs: worstInputs,
    source: NIOSH,
    standing: 'published',
    valid: TWO_HANDS,
    spread: (r, slot) => 0.15 * (liftOf(r, slot)?.index ?? 0),
    caution: LIFT_CAUTION,
    note: holdNote,
  },
  {
    id: 'effort.lift.{lift}.able',
    title: 'users who accept the lift',
    symbol: 'p_l',
    unit: '%',
    meaning: 'share of users who accept that lift with two hands',
    tier: 'settle',
    needs: ['burden'],
    slots: (names) => names.lifts,
    read: (r, slot) => lifted(r, slot, (l) => l.able),
    steps: [
      'At an index of 1 it is accepted by 75 % of women and 99 % of men.',
      'Accepted loads lognormal, women to men as their strength, 329 : 541; weighted by the brief’s share of women.',
    ],
    source: `${NIOSH}; Leyk et al. 2007, Eur. J. Appl. Physiol. 99:415`,
    standing: 'published',
    valid: TWO_HANDS,
    spread: () => 0.08,
    caution: LIFT_CAUTION,
    note: holdNote,
  },
  {
    id: 'effort.carry_edge',
    title: 'lower edge over the steps',
    symbol: 'h_e',
    unit: 'mm',
    meaning:
      'least height of the package over the steps’ edges when a short woman (5th percentile) carries it on stairs at arm’s length; negative: it knocks unless she bends the arm',
    tier: 'settle',
    needs: ['burden'],
    slots: single,
    read: (r) => r.burden!.edge?.short.stairs ?? absent('the file names no handle'),
    steps: [
      'The package hangs from its handle, centre of mass below it, slim side to the leg; the grip hangs at the height of her hand in shoes.',
      'Least height of all shapes over the line of the steps’ edges, forward or backward along the way, the foot in the middle of a step.',
    ],
    source: 'statics of a hanging body; wrist and hand: ANSUR II (Gordon et al. 2014) laid over the brief’s public',
    standing: 'definition',
    valid: 'arm straight, walking upright; the package does not swing',
    spread: () => 0.03,
    note: (r) => {
      const { edge, grip } = r.burden!;
      if (!edge) return undefined;
      const mm = (x: number): string => (1000 * x).toFixed(0);
      return `usual rider ${mm(edge.usual.stairs)} mm, tallest ${mm(edge.tall.stairs)} mm; level ground ${mm(edge.short.level)} mm; hand at ${mm(grip.short)} mm, package ${mm(edge.short.down)} mm below the handle`;
    },
  },
  {
    id: 'effort.roll_force',
    title: 'force to roll it',
    symbol: 'F_r',
    unit: 'N',
    meaning: 'level push or pull that rolls the folded bicycle on a hard floor',
    tier: 'settle',
    needs: ['burden'],
    slots: single,
    read: (r) => {
      const roll = r.burden!.roll;
      if (!roll) return absent(whyNot(r));
      return !r.burden!.rolls
        ? absent(`it is carried rather than rolled: ${roll.hand.toFixed(0)} N hang on the hand at its handle`)
        : roll.force[1];
    },
    steps: [
      'Weight on the wheels times the lever of rolling friction (1.5 mm on hard floors) over the radius of the smaller wheel.',
      'Wheels side by side: tipped until the centre of mass stands over them, where nothing then touches the floor; else what the hand carries at the handle is not on the wheels.',
    ],
    source: 'lever 1–2.5 mm: default, from memory; how to judge it: ISO 11228-2 and EN 1005-3',
    standing: 'memory',
    valid: 'hard, level floor; small castors need a very smooth one, which owners complain about',
    spread: (r) => {
      const roll = r.burden!.roll;
      return roll ? Math.abs(roll.force[2] - roll.force[0]) / 4 : 0;
    },
    note: (r) => {
      const roll = r.burden!.roll;
      if (!roll) return undefined;
      const [low, , high] = roll.force;
      const carried = Math.abs(roll.hand) > 0.5 ? `; the hand carries ${roll.hand.toFixed(0)} N` : '';
      const handle = Number.isFinite(roll.handleHeight)
        ? `, handle at ${(1000 * roll.handleHeight).toFixed(0)} mm`
        : '';
      return `${low.toFixed(1)} to ${high.toFixed(1)} N with levers of ${1000 * ROLLING_LEVER[0]} to ${1000 * ROLLING_LEVER[2]} mm, ${(100 * roll.coefficient).toFixed(1)} % of ${(r.mass!.whole.mass * STANDARD_GRAVITY).toFixed(0)} N; wheels ${roll.arrangement}${handle}${carried}`;
    },
  },
];

const whyNot = (r: Results): string => {
  const rolling = r.handling!.rolling;
  return rolling ? `it does not roll: ${rolling.reason}` : 'fewer than two wheels are named to roll on';
};
