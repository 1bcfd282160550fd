/** Quantities of pinches: gaps that close on a finger while folding. Beside `hands.ts`: they need every shape along every move. */
import { crushes, KIND } from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { PinchPlace } from '../run/pinch.ts';
import { jointValue, plainName } from '../words.ts';
import { CRUSH_CAUTION, moveOf } from './hands.ts';

const folds = (r: Results, read: () => number | Absent): number | Absent =>
  r.model.fold.length === 0 ? absent('this bicycle does not fold') : read();
const PINCH_STEPS = [
  'Along every move, every 10 mm of the hand’s way: gaps between bodies that move against one another and close from within 4–25 mm, or through it, to less than 25 mm.',
  'Counted where a hand is: within 120 mm of the place that moves the part, of locks worked just before and after, of the saddle or bar that the other hand steadies. Findings within 60 mm of one another are one.',
  'Faces of hinges and pins that a hand locks close through the band by nature: each is one.',
];
const PINCH_SOURCE =
  'EN 349:1993+A1:2008 = ISO 13854 (least gaps: finger 25 mm, hand 100 mm), ISO 13857 (openings up to 4 mm); where hands are: judgement';
const PINCH_VALID =
  'shapes as drawn and the hands of the procedure; bystanders’ and children’s fingers, spokes, chains and levers against their tubes are not in it';
const pinches = (r: Results, slot?: string): readonly PinchPlace[] => {
  const { places } = r.pinch!;
  if (slot === undefined) return places;
  const move = moveOf(r, slot);
  return move ? places.filter((p) => p.move === move.move) : [];
};
const pinchWords = (r: Results, p: PinchPlace): string => {
  const { names } = r.model.top;
  const what =
    p.joint >= 0
      ? `${r.model.top.kind[p.joint] === KIND.pin ? 'pin' : 'faces'} of ${plainName(names.joints[p.joint]!)}`
      : p.shapes.map((k) => plainName(names.shapes[k]!)).join(' and ');
  const joint = r.fold!.plan.segments[p.segment]!.joint;
  const left = p.gap < 0.0005 ? 'shut' : `to ${(1000 * p.gap).toFixed(0)} mm`;
  const crushed = crushes(p.gap)
    .filter((part) => part === 'finger' || part === 'hand')
    .at(-1);
  return `${what} close ${left} while ${p.ways.map((w) => `${w}ing`).join(' and ')} ${plainName(names.joints[joint]!)}, at ${jointValue(r.model, joint, p.value)} (${crushed}, ${p.advantage > 50 ? 'more than 50' : p.advantage.toFixed(1)} times the hand’s force)`;
};
const PINCHES_SHOWN = 5;
const pinchList = (r: Results, places: readonly PinchPlace[]): string | undefined =>
  places.length === 0
    ? undefined
    : places
        .slice(0, PINCHES_SHOWN)
        .map((p) => pinchWords(r, p))
        .join('; ') + (places.length > PINCHES_SHOWN ? `; and ${places.length - PINCHES_SHOWN} more` : '');

export const PINCH_FAMILIES: readonly Family[] = [
  {
    id: 'hands.pinch_count',
    title: 'places that pinch fingers',
    symbol: 'n_p',
    unit: '',
    meaning: 'places where a gap closes on a finger while folding or unfolding, where the hands are',
    tier: 'settle',
    needs: ['fold', 'hands', 'pinch'],
    slots: single,
    read: (r) => folds(r, () => pinches(r).length),
    steps: PINCH_STEPS,
    source: PINCH_SOURCE,
    standing: 'published',
    valid: PINCH_VALID,
    spread: () => 1,
    caution: CRUSH_CAUTION,
    note: (r) => pinchList(r, pinches(r)),
  },
  {
    id: 'hands.pinch_gap',
    title: 'tightest gap that closes on a finger',
    symbol: 's_p',
    unit: 'mm',
    meaning:
      'least gap left between two parts where one closes on a finger; faces of hinges, which close altogether, aside',
    tier: 'settle',
    needs: ['fold', 'hands', 'pinch'],
    slots: single,
    read: (r) => {
      const parts = pinches(r).filter((p) => p.joint < 0);
      return folds(r, () =>
        parts.length ? Math.min(...parts.map((p) => p.gap)) : absent('no two parts close on a finger'),
      );
    },
    steps: PINCH_STEPS,
    source: PINCH_SOURCE,
    standing: 'published',
    valid: PINCH_VALID,
    // as built: clearances lie within about ± 3 mm (common practice, no source)
    spread: () => 0.0015,
    caution: CRUSH_CAUTION,
    note: (r) => {
      const tightest = pinches(r).find((p) => p.joint < 0);
      return tightest && pinchWords(r, tightest);
    },
  },
  {
    id: 'hands.move.{move}.pinches',
    title: 'places of a move that pinch fingers',
    symbol: 'n_i',
    unit: '',
    meaning: 'places where a gap closes on a finger in one move, there or back, where the hands are',
    tier: 'settle',
    needs: ['fold', 'hands', 'pinch'],
    slots: (names) => names.moves,
    read: (r, slot) => folds(r, () => pinches(r, slot).length),
    steps: PINCH_STEPS,
    source: PINCH_SOURCE,
    standing: 'published',
    valid: PINCH_VALID,
    spread: () => 0.5,
    caution: CRUSH_CAUTION,
    note: (r, slot) => pinchList(r, pinches(r, slot)),
  },
];
