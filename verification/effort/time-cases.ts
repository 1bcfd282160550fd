/** Seconds of work by hand: the published table's worked examples, and cross-checks of the analysis of a fold. */
import { motion, TMU_SECONDS } from '#kernel';
import { standingAt } from '../../src/kernel/effort/hand-work.ts';
import { openLock } from '../../src/kernel/effort/lock-work.ts';
import type { Case, Row } from '../case.ts';

const HANDOUT = 'predetermined motion times (inches): table and worked example of a university work-measurement course';
/** A sum of a few one-decimal numbers in binary. */
const EXACT = { absolute: 1e-9, why: 'sums of printed figures, exact but for binary rounding' } as const;

type Element = string | readonly [code: string, pounds: number];
const tmu = (elements: readonly Element[]): number =>
  elements.reduce((sum, e) => sum + (typeof e === 'string' ? motion(e) : motion(e[0], { pounds: e[1] })).tmu, 0);

const PICK_AND_PLACE: readonly Element[] = [
  'R16C',
  'G4A',
  ['M10B', 5],
  'RL1',
  'R14B',
  'G1B',
  ['M8C', 3],
  'P1NSE',
  'RL1',
];
const weightless = PICK_AND_PLACE.map((e) => (typeof e === 'string' ? e : e[0]));

const printed = (code: string, published: number): Row => ({
  quantity: code,
  unit: 'TMU',
  published,
  computed: () => motion(code).tmu,
  tolerance: EXACT,
});

/** From hand to opened lever of an over-centre lock with a second catch, 10 in away. */
const latchTmu = (actions: number): number => {
  const w = standingAt([0.5, 0.3, 0.8], 1, 0.8);
  openLock(w, { kind: 'toggle', lever: 0.11, actions }, 'main');
  return motion('R10B').tmu + w.elements.reduce((sum, e) => sum + e.tmu, 0);
};

export const timeCases: readonly Case[] = [
  {
    id: 'motion-time-example',
    title: 'Pick up one part, then another, and place it',
    source: `${HANDOUT}: R16C G4A M10B5 RL1 R14B G1B M8C3 P1NSE RL1`,
    standing: 'published',
    rows: [
      {
        quantity: 'M10B with 5 lb',
        unit: 'TMU',
        published: 15.132,
        computed: () => motion('M10B5').tmu,
        tolerance: EXACT,
        wrong: { what: 'allowance for the next heavier row', computed: () => motion('M10B', { pounds: 8 }).tmu },
      },
      {
        quantity: 'M8C with 3 lb',
        unit: 'TMU',
        published: 14.708,
        computed: () => motion('M8C3').tmu,
        tolerance: EXACT,
      },
      {
        quantity: 'sum',
        unit: 'TMU',
        published: 86.44,
        computed: () => tmu(PICK_AND_PLACE),
        tolerance: EXACT,
        wrong: { what: 'weights forgotten', computed: () => tmu(weightless) },
      },
      {
        quantity: 'time',
        unit: 's',
        published: 3.11184,
        computed: () => tmu(PICK_AND_PLACE) * TMU_SECONDS,
        tolerance: EXACT,
      },
    ],
  },
  {
    id: 'motion-time-second',
    title: 'Reach, grasp, move against a stop, lift the hand off',
    source: `${HANDOUT}: exercise R16C G1A M9A RL2, summed from the table`,
    standing: 'recomputed',
    rows: [
      {
        quantity: 'sum',
        unit: 'TMU',
        published: 29.5,
        computed: () => tmu(['R16C', 'G1A', 'M9A', 'RL2']),
        tolerance: EXACT,
        wrong: {
          what: 'roughly there instead of against the stop',
          computed: () => tmu(['R16C', 'G1A', 'M9B', 'RL2']),
        },
      },
    ],
  },
  {
    id: 'motion-time-table',
    title: 'Entries of the table across its columns',
    source: `${HANDOUT}, table; turns and body motions: a transcription of the same table`,
    standing: 'published',
    rows: [
      printed('R30A', 17.5),
      printed('R30B', 25.8),
      printed('R1C', 3.6),
      printed('R30E', 22.9),
      printed('M1B', 2.9),
      printed('M30A', 27.1),
      printed('M30C', 30.7),
      printed('T180S', 9.4),
      printed('T90M', 8.5),
      printed('T30L', 8.4),
      printed('P3NSD', 53.4),
      printed('D3D', 34.7),
      printed('AKBK', 76.7),
    ],
  },
  {
    id: 'motion-time-walk',
    title: 'Walking 10 m without a load',
    source: 'the same table: 15.0 TMU a pace of 30 in (0.762 m); 10 m are 13.1 paces',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'time',
        unit: 's',
        published: 7.1,
        computed: () => (10 / 0.762) * motion('W1P').tmu * TMU_SECONDS,
        tolerance: { absolute: 0.05, why: 'printed to 0.1 s' },
        wrong: {
          what: '5.3 TMU a foot, the table’s other entry: a pace of 34 in',
          computed: () => (10 / 0.3048) * motion('W1FT').tmu * TMU_SECONDS,
        },
      },
    ],
  },
  {
    id: 'motion-time-suitcase',
    title: 'Four paces, pick a suitcase from the floor, put it on a table',
    source: 'K. B. Zandin: MOST Work Measurement Systems (from memory): A6 B6 G1 A1 B0 P1 A0, 15 · 10 TMU',
    standing: 'memory',
    rows: [
      {
        quantity: 'sum of elements',
        unit: 'TMU',
        published: 150,
        computed: () => tmu(['W4P', 'B', 'R10B', 'G1A', 'AB', ['M24B', 13], 'RL1']),
        tolerance: {
          relative: 0.2,
          why: 'a coarser system whose steps are 1, 3, 6, 10 · 10 TMU: one index step is a fifth',
        },
        wrong: { what: 'the back forgotten', computed: () => tmu(['W4P', 'R10B', 'G1A', ['M24B', 13], 'RL1']) },
      },
    ],
  },
  {
    id: 'fold-time-parts',
    title: 'What a latch, a bend and a led half cost in a fold',
    source:
      'elements of a three-hinge fold of 12 kg written out by hand from the same table (502.7 TMU, 18.1 s in all)',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'a bend and getting up again',
        unit: 'TMU',
        published: 60.9,
        computed: () => tmu(['B', 'AB']),
        tolerance: EXACT,
      },
      {
        quantity: 'swing of a half of 13 lb over 30 in',
        unit: 'TMU',
        published: 34,
        computed: () => motion('M30B', { pounds: 13 }).tmu,
        tolerance: { absolute: 0.05, why: 'printed to 0.1 TMU' },
        wrong: { what: 'both hands, half each', computed: () => motion('M30B', { pounds: 13, hands: 2 }).tmu },
      },
      {
        quantity: 'opening a latch with a second catch',
        unit: 'TMU',
        published: 55,
        computed: () => latchTmu(2),
        tolerance: { absolute: 5, why: 'given as about 50 to 60 TMU' },
        wrong: { what: 'without its second catch', computed: () => latchTmu(1) },
      },
    ],
  },
];
