/** Quantities of the brief's way from door to door. */
import { HUMAN_EFFICIENCY } from '#kernel';
import { type Family, type Input, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { TripLeg } from '../run/trip.ts';

const common = { tier: 'settle', needs: ['effort', 'burden', 'drive', 'trip'], slots: single } as const;
const VALID =
  'usual rider with the luggage, dry and without wind; trained hands; no traffic lights, no waiting; walking and powers are defaults';
const SOURCE =
  'road: J. C. Martin et al. 1998; walking and hands: predetermined motion times; stairs: T. Kretz et al. 2008; energy on foot: K. B. Pandolf et al. 1977';

/** The legs' sums as inputs of a formula: `t_ride + t_fold + …`. */
const KINDS = ['ride', 'push', 'stop', 'fold', 'roll', 'carry', 'stairs', 'lift', 'stow', 'unfold'] as const;
const sums = (r: Results, symbol: string, unit: string, pick: (l: TripLeg) => number): readonly Input[] =>
  KINDS.map((kind) => ({
    symbol: `${symbol}_${kind}`,
    meaning: kind,
    value: r.trip!.legs.reduce((sum, l) => (l.kind === kind ? sum + pick(l) : sum), 0),
    unit,
  }));
const sumFormula = (symbol: string): string => KINDS.map((kind) => `${symbol}_${kind}`).join(' + ');
const spent = (r: Results, kinds: readonly string[]): number =>
  r.trip!.legs.reduce((sum, l) => (kinds.includes(l.kind) ? sum + l.seconds : sum), 0);
const named = (l: TripLeg | undefined): string => (l ? `${l.words} (${l.seconds.toFixed(0)} s)` : '');

export const TRIP_FAMILIES: readonly Family[] = [
  {
    id: 'trip.seconds',
    title: 'time from door to door',
    symbol: 't_T',
    unit: 's',
    meaning: 'the brief’s way with this candidate: ride, fold, roll, carry, stairs, lifts, stow, unfold',
    ...common,
    read: (r) => r.trip!.seconds,
    formula: sumFormula('t'),
    inputs: (r) => sums(r, 't', 's', (l) => l.seconds),
    source: SOURCE,
    standing: 'published',
    valid: VALID,
    // riding by what riders give, walking and hands by what people do
    spread: (r) => {
      const ride = 0.08 * spent(r, ['ride', 'push']);
      const foot = 0.2 * (r.trip!.seconds - spent(r, ['ride', 'push']));
      return Math.sqrt(ride * ride + foot * foot);
    },
    note: (r) => `longest: ${named(r.trip!.legs[r.trip!.longest])}`,
  },
  {
    id: 'trip.folding_seconds',
    title: 'of that, folding and unfolding',
    symbol: 't_F',
    unit: 's',
    meaning: 'both ways, by trained hands',
    ...common,
    read: (r) => r.trip!.folding,
    formula: 't_fold + t_unfold',
    inputs: (r) => sums(r, 't', 's', (l) => l.seconds).filter((i) => i.symbol === 't_fold' || i.symbol === 't_unfold'),
    source: 'predetermined motion times',
    standing: 'published',
    valid: 'the procedure as written',
    spread: (r) => 0.25 * r.trip!.folding,
    note: (r) => {
      const [low, high] = r.trip!.firstTime;
      return high > 0 ? `a first time takes ${low.toFixed(0)} to ${high.toFixed(0)} s` : undefined;
    },
  },
  {
    id: 'trip.hand_seconds',
    title: 'of that, with its weight in the hands',
    symbol: 't_H',
    unit: 's',
    meaning: 'carrying, stairs and lifts',
    ...common,
    read: (r) => r.trip!.inHand,
    formula: 't_carry + t_stairs + t_lift - t_rest',
    inputs: (r) => [
      ...sums(r, 't', 's', (l) => (l.inHand ? l.seconds : 0)).filter((i) =>
        ['t_carry', 't_stairs', 't_lift'].includes(i.symbol),
      ),
      { symbol: 't_rest', meaning: 'rests on the stairs, set down', value: r.trip!.resting, unit: 's' },
    ],
    source: SOURCE,
    standing: 'published',
    valid: `${VALID}; set down at the rests`,
    spread: (r) => 0.2 * r.trip!.inHand,
  },
  {
    id: 'trip.energy',
    title: 'what it takes out of the rider',
    symbol: 'E_T',
    unit: 'kJ',
    meaning: 'energy that the body spends on the way',
    ...common,
    read: (r) => r.trip!.energy,
    formula: sumFormula('E'),
    inputs: (r) => sums(r, 'E', 'kJ', (l) => l.energy / 1000),
    source: `${SOURCE}; work over an efficiency of ${HUMAN_EFFICIENCY}, from memory`,
    standing: 'published',
    valid: VALID,
    spread: (r) => 0.15 * r.trip!.energy,
    note: (r) => {
      const l = r.trip!.legs[r.trip!.hardest];
      return l ? `hardest: ${named(l)}, ${(l.energy / l.seconds).toFixed(0)} W of the body` : undefined;
    },
  },
  {
    id: 'trip.lifts',
    title: 'how often it is taken up',
    symbol: 'n_T',
    unit: '',
    meaning: 'from the floor: to carry it, after each rest on the stairs, and onto what the brief names',
    ...common,
    read: (r) => r.trip!.lifts,
    steps: ['Once for carrying and stairs together, once after each rest, once for each lift of the brief.'],
    source: 'our definition',
    standing: 'definition',
    valid: 'the brief’s way',
    spread: () => 0,
  },
];
