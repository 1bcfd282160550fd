/** Quantities of foolproofing: what goes wrong unnoticed, and what is noticed. */
import type { OrderCount } from '#kernel';
import { type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import { causeWords, type FoolproofResult, type Hazard } from '../run/foolproof.ts';

const CAUTION =
  'A lock that looks shut and is not has thrown riders. The figure comes from shapes and mechanisms as drawn: people who have never seen the bicycle fold and unfold prototypes before anybody rides them; ISO 4210-2 asks that nothing can be unlocked unintentionally.';
const ORDER_STEPS = [
  'Every order of the moves as a path through the subsets of moves done. A step is blocked (lock closed, loop does not move so), a clash (shapes meet), looks shut and is not (they meet with less than 20 mm to go), or clear.',
  'Pairs of shapes are swept for every set of other moves that matters to them, in steps of at least 10 mm of the fastest point; overlaps of more than 1 mm count.',
  'Orders that begin alike and stop are counted together; up to 8 moves every one of the n! − 1 wrong orders, beyond that two moves exchanged at a time.',
];
const LOCK_STEPS = [
  'Each lock’s handle left at the worst place where it looks shut (tip within 15 mm): does friction hold it there, at what force does it open, how much does it still clamp (kernel/effort/half-shut).',
  'No harm where the frame is rigid without the lock; noticed where it springs open, stands off visibly, or its second catch shows it; a lock of which the file says nothing counts as looking shut.',
];
const FORGOTTEN_STEPS = [
  'One move forgotten at a time, folding and unfolding: noticed where a later move is blocked or meets something, or where the farthest point stands off by more than 20 mm.',
  'One lock left open at a time: noticed where its open handle stands off by 50 mm, where it closes by itself, or its second catch shows it. Latches and straps of the package left off: held without them in any attitude?',
];
const VALID =
  'shapes as drawn, one mistake at a time but for the order; moves done half, two at once, forced locks and worn catches are not in it; thresholds default, from memory';
const SOURCE =
  'orders: dynamic programming over subsets, Held & Karp 1962, J. SIAM 10:196–210; states of locks: their mechanism, theory; what looks shut: judgement';

const result = (r: Results): FoolproofResult => r.foolproof!;
const hazards = (r: Results, kind?: Hazard['kind']): readonly Hazard[] =>
  result(r).hazards.filter((h) => kind === undefined || h.kind === kind);
const SHOWN = 6;
const list = (items: readonly string[]): string | undefined =>
  items.length === 0
    ? undefined
    : items.slice(0, SHOWN).join('; ') + (items.length > SHOWN ? `; and ${items.length - SHOWN} more` : '');
const both = (r: Results, read: (c: OrderCount) => number): number =>
  read(result(r).orders.fold) + read(result(r).orders.unfold);
const causes = (r: Results, end: string): string | undefined => {
  const { orders, states } = result(r);
  return list(
    orders.causes.filter((c) => c.end === end).map((c) => `${causeWords(r, states, c)} (${c.orders} orders)`),
  );
};
const counted = (r: Results): string => {
  const { orders, states } = result(r);
  const total = orders.fold.total + orders.unfold.total;
  return orders.every
    ? `of ${total} wrong orders of ${states.motions.length} moves, folding and unfolding`
    : `of ${total} exchanges of two moves: with ${states.motions.length} moves not every order was counted`;
};

const base = {
  unit: '',
  tier: 'settle',
  needs: ['fold', 'foolproof'],
  slots: single,
  source: SOURCE,
  standing: 'definition',
  valid: VALID,
  // a count of cases: what people notice is a judgement, which `valid` says, and no spread would make a hazard less of one
  spread: () => 0,
  caution: CAUTION,
} as const satisfies Partial<Family>;

export const FOOLPROOF_FAMILIES: readonly Family[] = [
  {
    ...base,
    id: 'foolproof.looks_shut',
    title: 'mistakes that look right',
    symbol: 'n_!',
    meaning: 'mistakes after which it looks shut, folded or ready to ride and is not: a hazard each',
    read: (r) => hazards(r).length,
    steps: [...ORDER_STEPS, ...LOCK_STEPS, ...FORGOTTEN_STEPS],
    note: (r) => list(hazards(r).map((h) => h.words)),
  },
  {
    ...base,
    id: 'foolproof.half_shut_hazards',
    title: 'half-shut locks that look shut',
    symbol: 'n_h',
    meaning: 'locks that, half-shut or closed on a joint not quite home, look shut and do not hold',
    read: (r) => hazards(r, 'half_shut').length,
    steps: LOCK_STEPS,
    note: (r) => {
      const { locks } = result(r);
      const names = r.model.top.names.joints;
      return list(
        locks
          .filter((l) => l.mishap !== 'forgotten' && l.frees.length > 0)
          .sort((a, b) => Number(b.end === 'looks_shut') - Number(a.end === 'looks_shut'))
          .filter((l) => l.end === 'looks_shut' || l.mishap === 'half_shut')
          .map((l) => `${names[l.joint]!.replaceAll('_', ' ')}: ${l.end.replaceAll('_', ' ')}, ${l.why}`),
      );
    },
  },
  {
    ...base,
    id: 'foolproof.forgotten_hazards',
    title: 'omissions that nobody notices',
    symbol: 'n_f',
    meaning: 'moves, locks and holders that can be forgotten without being seen, felt or stopped',
    read: (r) => hazards(r, 'forgotten').length,
    steps: FORGOTTEN_STEPS,
    note: (r) => list(hazards(r, 'forgotten').map((h) => h.words)),
  },
  {
    ...base,
    id: 'foolproof.order_hazards',
    title: 'wrong orders that look right',
    symbol: 'n_o',
    meaning: 'reasons for which a wrong order ends in a posture that looks right and is not',
    read: (r) => hazards(r, 'wrong_order').length,
    steps: ORDER_STEPS,
    note: (r) => causes(r, 'looks_shut') ?? counted(r),
  },
  {
    ...base,
    id: 'foolproof.wrong_orders_clash',
    title: 'wrong orders in which something meets',
    symbol: 'n_c',
    meaning: 'wrong orders of folding and unfolding in which shapes meet: the hand feels it, the paint suffers',
    read: (r) => both(r, (c) => c.clash),
    steps: ORDER_STEPS,
    note: (r) => [counted(r), causes(r, 'clash')].filter(Boolean).join(': '),
  },
  {
    ...base,
    id: 'foolproof.wrong_orders_blocked',
    title: 'wrong orders that are blocked',
    symbol: 'n_b',
    meaning: 'wrong orders of folding and unfolding that a closed lock or a loop stops',
    read: (r) => both(r, (c) => c.blocked),
    steps: ORDER_STEPS,
    note: (r) => causes(r, 'blocked') ?? counted(r),
  },
  {
    ...base,
    id: 'foolproof.wrong_orders_harmless',
    title: 'wrong orders that do no harm',
    symbol: 'n_w',
    meaning: 'wrong orders of folding and unfolding that end in the right posture with nothing touched',
    read: (r) => both(r, (c) => c.harmless),
    steps: ORDER_STEPS,
    note: counted,
  },
];
