/** Quantities of chain or belt, riding and in the fold. */
import { TWISTED } from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { LoopResult } from '../run/drive.ts';

const drag = { tier: 'drag', slots: single } as const;
const NEEDS = ['drive'] as const;
const DEG = 180 / Math.PI;

const loop = (r: Results): LoopResult | Absent => r.drive!.loop ?? absent(r.drive!.why.loop ?? 'no chain');
const ofLoop = (r: Results, read: (l: LoopResult) => number | Absent): number | Absent => {
  const l = loop(r);
  return 'absent' in l ? l : read(l);
};
const mm = (x: number): string => `${(x * 1000).toFixed(0)} mm`;
const LOOP_VALID =
  'wheels in one plane, chain new; chainring and sprocket where they are drawn; tensioners’ own pulleys are not in it';

/** How the slack can be taken up, or not. */
function takenUp(l: LoopResult): string {
  const name = l.kind === 'chain' ? `${l.pitches} links` : `belt of ${l.pitches} teeth`;
  if (l.slack < 0) return `${name}: too short by ${mm(-l.slack)}, it cannot be mounted`;
  const parts = [`${name}${l.given ? ' as given' : ''} for ${l.exact.toFixed(2)}`];
  if (l.move !== undefined && l.tensioner === 0) parts.push(`taut with the hub ${mm(l.move)} further back`);
  const worn = l.slack + l.wear + l.span;
  if (l.tensioner > 0)
    parts.push(
      l.tensioner >= worn
        ? `the tensioner takes up ${mm(worn)} of its ${mm(l.tensioner)}, wear included`
        : `the tensioner takes up ${mm(l.tensioner)} and would have to ${mm(worn)}, wear included`,
    );
  else if (l.span > 1e-4) parts.push(`sprockets of different size set ${mm(l.span)} free: it needs a tensioner`);
  else if (l.adjust > 0 && l.move !== undefined) {
    const worst = l.move + l.wear / 2;
    parts.push(
      l.adjust >= worst
        ? `the hub moves back by ${mm(l.adjust)}: enough until the chain is worn`
        : `the hub moves back by ${mm(l.adjust)} and would have to by ${mm(worst)} until the chain is worn`,
    );
  } else parts.push('the file gives neither `adjust` nor `tensioner` to take it up');
  return parts.join('; ');
}

/** What the fold does to it. */
function foldNote(l: LoopResult): string | undefined {
  const f = l.fold;
  if (!f?.moves) return f ? `${l.kind} and both its wheels are on one body: the fold leaves it alone` : undefined;
  const parts = [
    `distance of the wheels ${mm(f.ride.reach)} riding, ${mm(f.folded.reach)} folded, ${mm(f.shortest.reach)} to ${mm(f.longest.reach)} on the way`,
  ];
  if (f.twisted)
    parts.push(
      `their axles go ${(Math.max(f.folded.angle, f.longest.angle) * DEG).toFixed(0)} deg out of parallel and ${mm(Math.abs(f.folded.shift))} out of line: it comes off unless guides hold it`,
    );
  if (l.releasable) parts.push('it is let go for the fold');
  return parts.join('; ');
}

function noteOfLoop(r: Results, say: (l: LoopResult) => string | undefined): string | undefined {
  const l = loop(r);
  return 'absent' in l ? undefined : say(l);
}

export const LOOP_FAMILIES: readonly Family[] = [
  {
    id: 'drive.loop_length',
    title: 'length of chain or belt',
    symbol: 'L',
    unit: 'mm',
    meaning: 'once round chainring and sprocket where they are drawn',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.loop.length),
    steps: [
      'Two straight runs between the pitch circles and the arcs on them; a chain lays down its pitch per tooth on a circle through its pins.',
    ],
    source: 'closed form of the open belt; theory',
    standing: 'published',
    valid: LOOP_VALID,
    spread: () => 0.002,
    note: (r) => {
      const l = loop(r);
      return 'absent' in l
        ? undefined
        : `wheels ${mm(l.centres)} apart; ${l.mesh[0].toFixed(1)} and ${l.mesh[1].toFixed(1)} teeth hold`;
    },
  },
  {
    id: 'drive.loop_links',
    title: 'links of the chain, or teeth of the belt',
    symbol: 'n_L',
    unit: '',
    meaning: 'as given, or the least whole (of a chain: even) number that reaches round',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.pitches),
    steps: ['Length over pitch, rounded up; with a tensioner the longest length that the fold asks for.'],
    source: 'definition',
    standing: 'definition',
    valid: LOOP_VALID,
    spread: () => 0,
    note: (r) => noteOfLoop(r, takenUp),
  },
  {
    id: 'drive.loop_slack',
    title: 'slack of chain or belt while riding',
    symbol: 'e_L',
    unit: 'mm',
    meaning: 'length beyond once round, to be taken up by moving the hub or by a tensioner; negative: too short',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.slack),
    formula: 'n*p - L',
    inputs: (r) => {
      const l = loop(r);
      const is = 'absent' in l ? undefined : l;
      return [
        { symbol: 'n', meaning: 'links or teeth', value: is?.pitches ?? Number.NaN, unit: '' },
        { symbol: 'p', meaning: 'pitch', value: (is?.pitch ?? Number.NaN) * 1000, unit: 'mm' },
        { symbol: 'L', meaning: 'once round', value: (is?.loop.length ?? Number.NaN) * 1000, unit: 'mm' },
      ];
    },
    source: 'definition',
    standing: 'definition',
    valid: LOOP_VALID,
    spread: () => 0.002,
    note: (r) => noteOfLoop(r, takenUp),
  },
  {
    id: 'drive.folded_slack',
    title: 'least slack of chain or belt in the fold',
    symbol: 'e_F',
    unit: 'mm',
    meaning:
      'length to spare where the fold parts its wheels farthest; negative: it stops the fold, tears or comes off',
    needs: NEEDS,
    ...drag,
    read: (r) =>
      ofLoop(r, (l) => {
        if (!l.fold) return absent('this bicycle does not fold');
        const { need } = l.fold.longest;
        return Number.isFinite(need)
          ? l.length - need
          : absent(
              'chainring and sprocket come to lie over one another where they are farthest: no loop goes round them there',
            );
      }),
    formula: 'n*p - L_F',
    inputs: (r) => {
      const l = loop(r);
      const is = 'absent' in l ? undefined : l;
      return [
        { symbol: 'n', meaning: 'links or teeth', value: is?.pitches ?? Number.NaN, unit: '' },
        { symbol: 'p', meaning: 'pitch', value: (is?.pitch ?? Number.NaN) * 1000, unit: 'mm' },
        {
          symbol: 'L_F',
          meaning: 'longest way round over the fold',
          value: (is?.fold?.longest.need ?? Number.NaN) * 1000,
          unit: 'mm',
        },
      ];
    },
    source: 'definition; the wheels’ places from the fold',
    standing: 'definition',
    valid: `${LOOP_VALID}; with axles out of parallel the length is the least that is needed`,
    outside: (r) => {
      const l = loop(r);
      return 'absent' in l || !l.fold?.twisted
        ? undefined
        : `the axles go more than ${(TWISTED * DEG).toFixed(0)} deg out of parallel`;
    },
    spread: () => 0.003,
    note: (r) => noteOfLoop(r, foldNote),
  },
  {
    id: 'drive.line_angle',
    title: 'angle of the chain line',
    symbol: 'b_L',
    unit: 'deg',
    meaning: 'straight run to the plane of the wheels, in the gear where it is worst',
    needs: NEEDS,
    ...drag,
    read: (r) =>
      ofLoop(
        r,
        (l) => l.line ?? absent('the file does not say how far the sprocket stands from the mid-plane: drive.hub_line'),
      ),
    steps: [
      'Offset of the sprocket, or of the outermost of several, from the chainring’s plane over the straight run.',
    ],
    source: 'common practice, no source: at most 0.5 to 1° for one sprocket or a belt, 2 to 2.5° for a derailleur',
    standing: 'practice',
    valid: 'sprockets at usual distances, from memory',
    spread: () => 0.2 / DEG,
  },
];
