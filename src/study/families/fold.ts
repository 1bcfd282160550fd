/** Quantities of the fold: what moves, what must not, how near it comes. */
import type { SegmentProof } from '#kernel';
import type { Absent, Family } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';
import { tightest } from '../run/path.ts';
import { moveNames } from '../words.ts';

const PATH = [
  'Every motion of the procedure is swept, one after the other, followers of closed loops included.',
  'For every pair of shapes that moves relative to each other the gap is bounded from below between sampled postures; the search ends when bound and found value agree within 0.2 mm or 5 %.',
];
const SHAPES =
  'tubes, wheels, cranks, pedals and hardware as capsules, discs and boxes; cables, paint and clothes are not in it; pairs listed under `exclude` are not checked';
const BUILT = 0.0015; // welded and assembled: about ±3 mm over a bicycle, 2 sigma (common practice, no source)

const leastOf = (p: SegmentProof | undefined, nothing: string): number | Absent => {
  if (!p) return absent(nothing);
  if (!p.complete) return absent(`the motion could not be followed: ${p.reason}`);
  return p.least ? p.least.gap : absent('nothing moves past anything');
};
/** `beam and front_wheel, at 83 deg`. */
const place = (r: Results, p: SegmentProof | undefined): string | undefined => {
  if (!p?.least) return undefined;
  const { names, kind } = r.model.top;
  const [a, b] = p.least.shapes;
  const value =
    kind[p.joint] === 1 || kind[p.joint] === 3
      ? `${(p.least.at * 1000).toFixed(0)} mm`
      : `${((p.least.at * 180) / Math.PI).toFixed(0)} deg`;
  const where = `${names.shapes[a] ?? '?'} and ${names.shapes[b] ?? '?'}, ${names.joints[p.joint]} at ${value}`;
  const proven = Number.isFinite(p.least.proven) ? `; nowhere less than ${(p.least.proven * 1000).toFixed(1)} mm` : '';
  const first = p.firstContact ? `; first touch at ${slideOrTurn(r, p, p.firstContact.at)}` : '';
  return where + proven + first;
};
const slideOrTurn = (r: Results, p: SegmentProof, x: number): string =>
  r.model.top.kind[p.joint] === 1 || r.model.top.kind[p.joint] === 3
    ? `${(x * 1000).toFixed(0)} mm`
    : `${((x * 180) / Math.PI).toFixed(1)} deg`;

const blocked = (r: Results): string | undefined => {
  const wrong = r.fold!.plan.problems.find((p) => p.severity === 'error');
  return wrong ? `the procedure stops at move ${wrong.move + 1}: ${wrong.kind.replaceAll('_', ' ')}` : undefined;
};
const folds = (r: Results, read: () => number | Absent): number | Absent => {
  if (r.model.fold.length === 0) return absent('this bicycle does not fold');
  const why = blocked(r);
  return why ? absent(why) : read();
};

export const FOLD_FAMILIES: readonly Family[] = [
  {
    id: 'fold.moves',
    title: 'moves',
    symbol: 'n',
    unit: '',
    meaning: 'steps of the fold in which something changes place',
    tier: 'drag',
    needs: ['simple'],
    slots: single,
    read: (r) => r.simple!.visibleMoves,
    steps: ['Count of turn, slide and lower in the procedure.'],
    source: 'our definition',
    standing: 'definition',
    valid: 'the procedure as written',
    spread: () => 0,
  },
  {
    id: 'fold.hand_actions',
    title: 'hand actions',
    symbol: 'n_h',
    unit: '',
    meaning: 'actions on locks: every release and every lock with its second catch, and moves by hand',
    tier: 'drag',
    needs: ['simple'],
    slots: single,
    read: (r) => r.simple!.handActions + r.simple!.visibleMoves,
    formula: 'locks + moves',
    inputs: (r) => [
      { symbol: 'locks', meaning: 'actions on locks', value: r.simple!.handActions, unit: '' },
      { symbol: 'moves', meaning: 'moves by hand', value: r.simple!.visibleMoves, unit: '' },
    ],
    source: 'our definition',
    standing: 'definition',
    valid: 'the procedure as written; folding pedals count when they are joints of the procedure',
    spread: () => 0,
  },
  {
    id: 'fold.free_when_locked',
    title: 'freedoms left when locked',
    symbol: 'M',
    unit: '',
    meaning: 'independent motions of the frame with all locks closed; steering and cranks excepted',
    tier: 'drag',
    needs: ['fold'],
    slots: single,
    read: (r) => r.fold!.rigidity.freedoms,
    steps: [
      'Latches and clamps welded, joints held by a loop free; rank of the loop screws at the ride posture.',
      'Motions that do not survive a finite step are dropped: a dead position holds, and is reported.',
    ],
    source: 'L.-W. Tsai: Mechanism Design, CRC Press 2001, ch. 4 (mobility); rank of loop screws',
    standing: 'published',
    valid: 'rigid bodies, no play',
    spread: () => 0,
    caution: 'A frame that moves under its rider throws the rider. Play and elasticity are not in this figure.',
    note: (r) =>
      r.fold!.rigidity.freedoms > 0
        ? `loose: ${r.fold!.rigidity.loose.map((j) => r.model.top.names.joints[j]).join(', ')}`
        : r.fold!.rigidity.deadPosition
          ? 'rigid only at a dead position: a small push moves it a little'
          : undefined,
  },
  {
    id: 'fold.idle_joints',
    title: 'fold joints that never move',
    symbol: 'n_0',
    unit: '',
    meaning: 'joints released by the procedure that cannot move at any of its stages',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => idleJoints(r).length,
    steps: ['Rank of the loop screws before each move, with the releases done up to there.'],
    source: 'our definition',
    standing: 'definition',
    valid: 'rigid bodies',
    spread: () => 0,
    note: (r) => (idleJoints(r).length ? idleJoints(r).join(', ') : undefined),
  },
  {
    id: 'fold.clearance',
    title: 'least clearance while folding',
    symbol: 's',
    unit: 'mm',
    meaning: 'smallest gap between any two bodies over the whole motion; negative: they overlap',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => folds(r, () => leastOverall(r)),
    steps: PATH,
    source: 'step bound on capsules, discs and boxes; B. Mirtich 1996 for the principle of conservative advancement',
    standing: 'published',
    valid: SHAPES,
    spread: () => BUILT,
    note: (r) => place(r, tightest(r.path!)),
  },
  {
    id: 'fold.move.{move}.clearance',
    title: 'clearance of a move',
    symbol: 's_i',
    unit: 'mm',
    meaning: 'smallest gap between any two bodies during one move',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: (names) => names.moves,
    read: (r, slot) => {
      const i = moveNames(r.model).indexOf(slot);
      return folds(r, () => leastOf(r.path!.proofs[i], `no move ${slot}`));
    },
    steps: PATH,
    source: 'as fold.clearance',
    standing: 'published',
    valid: SHAPES,
    spread: () => BUILT,
    note: (r, slot) => place(r, r.path!.proofs[moveNames(r.model).indexOf(slot)]),
  },
  {
    id: 'fold.ride_clearance',
    title: 'least clearance while riding',
    symbol: 's_r',
    unit: 'mm',
    meaning: 'smallest gap between any two bodies in the riding posture, straight ahead; negative: they overlap',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => r.path!.ride?.gap ?? absent('no two bodies have shapes to compare'),
    steps: [
      'Gap of every pair of shapes on different bodies in the riding posture, those that meet at their joint left out.',
    ],
    source: 'distances of capsules, discs and boxes to 1e-9 m; theory',
    standing: 'definition',
    valid: SHAPES,
    spread: () => BUILT,
    note: (r) => r.path!.ride?.shapes.map((i) => r.model.top.names.shapes[i]).join(' and '),
  },
  {
    id: 'fold.tyre_clearance',
    title: 'clearance of the tyres in their own frame',
    symbol: 's_t',
    unit: 'mm',
    meaning:
      'smallest gap between a tyre and the tubes, blocks and guards of the body that carries it; negative: it rubs',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => r.path!.tyre?.gap ?? absent('nothing on the wheels’ bodies to compare'),
    steps: [
      'Gap of each wheel, as a flat cylinder of the tyre’s full width, to every other shape of its body; hubs, brakes, chain and mudguards left out.',
    ],
    source: '16 CFR 1512.11(b) asks for at least 1.6 mm',
    standing: 'published',
    valid: `${SHAPES}; a real tyre is rounder: its shoulder has more room than this says`,
    spread: () => BUILT,
    note: (r) => r.path!.tyre?.shapes.map((i) => r.model.top.names.shapes[i]).join(' and '),
  },
  {
    id: 'fold.crank_clearance',
    title: 'clearance of the turning cranks',
    symbol: 's_c',
    unit: 'mm',
    meaning: 'smallest gap of cranks, chainring and pedals to everything else over a full turn while riding',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => leastOf(r.path!.cranks, 'this candidate has no cranks'),
    steps: [
      'Cranks, chainring and pedals through a full turn against every other body, proved like a move of the fold.',
    ],
    source: 'as fold.clearance',
    standing: 'published',
    valid: `${SHAPES}; heels and trousers are not in it`,
    spread: () => BUILT,
    note: (r) => place(r, r.path!.cranks),
  },
  {
    id: 'steer.free_angle',
    title: 'free steering to either side',
    symbol: 'd_s',
    unit: 'deg',
    meaning: 'how far the bar turns to the worse side before anything touches, up to 75°',
    tier: 'settle',
    needs: ['fold', 'path'],
    slots: single,
    read: (r) => r.path!.freeSteer ?? absent('this candidate has no steerer'),
    steps: [
      'Everything on the grips’ side of the steerer turned to both sides against the rest until the first touch.',
    ],
    source: 'ISO 4210-2 asks for at least 60° to either side',
    standing: 'published',
    valid: `${SHAPES}; knees are not in it`,
    spread: () => (2 * Math.PI) / 180,
    note: (r) => {
      const worst = r.path!.steering?.find((p) => p.firstContact);
      return worst ? place(r, worst) : undefined;
    },
  },
];

function leastOverall(r: Results): number | Absent {
  const open = r.path!.proofs.find((p) => !p.complete);
  if (open) return absent(`move ${open.move + 1} could not be followed to its end: ${open.reason}`);
  return leastOf(tightest(r.path!), 'nothing moves past anything');
}

/** Names of joints that the procedure releases or turns and that never can move. */
function idleJoints(r: Results): string[] {
  const used = new Set(r.model.fold.map((m) => m.joint));
  return [...used].filter((j) => r.path!.released.moves[j] === 0).map((j) => r.model.top.names.joints[j]!);
}
