/** Hand forces, falling parts, finger gaps, counted orders: closed forms and published gaps. */
import {
  type BodyPart,
  closeLatch,
  crushes,
  FINGER_GAP,
  type FoldStates,
  foldStates,
  STANDARD_GRAVITY as g,
  type Meetings,
  newLinkageWorkspace,
  planFold,
  postureLike,
  wrongOrders,
} from '#kernel';
import { flaps } from '../../test/fixtures/rod-models.ts';
import {
  forcesOf,
  NO_FRICTION,
  PENDULUM,
  parallelogram,
  pendulum,
  slope,
  weighedModel,
} from '../../test/fixtures/weighed-models.ts';
import type { Case, Row } from '../case.ts';

const DEGREE = Math.PI / 180;
const WORK =
  'virtual work and energy: any text on mechanics, e.g. C. Lanczos: The Variational Principles of Mechanics, 4th ed., 1970, ch. III';
const CLOSED = { relative: 1e-6, why: 'closed form; loops are closed to 1e-10 m' };
const TRAPEZOID = { relative: 2e-3, why: 'energy by trapezoids of 7.5°: (π/2)²/(12·12²)' };

/** Least gap (mm) that does not crush the part, by bisection. */
function leastGap(part: BodyPart): number {
  let [low, high] = [0, 1];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (crushes(middle).includes(part)) low = middle;
    else high = middle;
  }
  return 1000 * high;
}
const gapRows: readonly Row[] = (
  [
    ['finger', 25],
    ['toes', 50],
    ['hand', 100],
    ['arm', 120],
    ['foot', 120],
    ['leg', 180],
    ['head', 300],
    ['body', 500],
  ] as const
).map(([part, published]) => ({
  quantity: `least gap, ${part}`,
  unit: 'mm',
  published,
  computed: () => leastGap(part),
  tolerance: { absolute: 1e-6, why: 'whole millimetres as printed' },
  ...(part === 'finger' ? { wrong: { what: 'toes', computed: () => leastGap('toes') } } : {}),
}));

const rod = (mass: readonly [number, number, number]) =>
  forcesOf(
    weighedModel(
      {
        bodies: ['rest', 'rod'],
        joints: [
          { name: 'hinge', kind: 'pivot', held: 'none', between: ['rest', 'rod'], at: [0, 0, 0], axis: [0, 1, 0] },
        ],
        fold: [{ move: 'turn', joint: 'hinge', to: Math.PI / 2 }],
      },
      [{ body: 'rod', mass: 2, com: [0.4, 0, 0], inertia: mass }],
    ),
    'rod',
    [0.8, 0, 0],
  )[0]!;
const slender = (2 * 0.8 * 0.8) / 12;

/** Orders of n moves of which some must follow others, counted by the kernel with meetings that say just that. */
function counted(n: number, after: readonly (readonly [number, number])[]): number {
  const { m, s } = flaps(Array.from({ length: n }, (_, i) => ({ name: `j${i}`, at: [i, 0, 0], length: 0.1, to: 1 })));
  const ws = newLinkageWorkspace(m.top);
  const plan = planFold(m, s, ws);
  const states: FoldStates = foldStates(m, plan);
  const meetings: Meetings = {
    first: (i, done) => {
      const missing = after.find(([late, early]) => late === i && !((done >> early) & 1));
      return missing
        ? { shapes: [0, 1], u: 0.5, value: 0.5, point: [0, 0, 0], left: 1, among: 2 ** n - 1, done }
        : undefined;
    },
    wayBetween: () => 1,
    sweeps: () => 0,
  };
  return wrongOrders(m, plan, states, meetings, postureLike(s), ws).fold.harmless + 1;
}
const COUNT = { absolute: 0, why: 'whole number' };

const eccentric = { lever: 60, eccentricity: 3, radius: 7, past: 3 * DEGREE, stack: 4000 };

export const handsCases: readonly Case[] = [
  {
    id: 'effort-finger-gaps',
    title: 'Gaps that crush parts of the body',
    source:
      'EN 349:1993+A1:2008 (= ISO 13854:2017), table 1, least gaps; ISO 13857:2019, table 4: a slot up to 4 mm keeps a fingertip out',
    standing: 'published',
    rows: [
      ...gapRows,
      {
        quantity: 'slot that keeps a fingertip out',
        unit: 'mm',
        published: 4,
        computed: () => 1000 * FINGER_GAP.in,
        tolerance: { absolute: 1e-9, why: 'as printed' },
      },
    ],
  },
  {
    id: 'effort-hand-work',
    title: 'Hand force by virtual work: pendulum, slope, parallelogram',
    source: WORK,
    standing: 'theory',
    rows: [
      {
        quantity: 'force at the end of a level arm of 0.4 m with 2 kg',
        unit: 'N',
        published: PENDULUM.mass * 9.80665,
        computed: () => forcesOf(pendulum(), 'arm', [0.5, 0, 0.5])[0]!.fold.push,
        tolerance: CLOSED,
        wrong: {
          what: 'hand at twice the arm',
          computed: () => forcesOf(pendulum(), 'arm', [0.9, 0, 0.5])[0]!.fold.push,
        },
      },
      {
        quantity: 'work to lift it upright, m g ℓ',
        unit: 'J',
        published: 2 * 9.80665 * 0.4,
        computed: () => forcesOf(pendulum(), 'arm', [0.5, 0, 0.5])[0]!.fold.work,
        tolerance: { relative: 5e-6, why: 'Simpson with strips of 7.5°: (π/2)⁴/(180·12⁴)' },
      },
      {
        quantity: 'push up a slope of 30° with friction 0.3 at the start, 3 kg: m g (sin α + μ cos α)',
        unit: 'N',
        published: 3 * 9.80665 * (0.5 + 0.3 * Math.cos(30 * DEGREE)),
        computed: () => forcesOf(slope(), 'sledge', [0, 0, 0], { ...NO_FRICTION, mu: 0.3 })[0]!.fold.force[0]!,
        tolerance: CLOSED,
        wrong: {
          what: 'coming down',
          computed: () => forcesOf(slope(), 'sledge', [0, 0, 0], { ...NO_FRICTION, mu: 0.3 })[0]!.unfold.force[0]!,
        },
      },
      {
        quantity: 'parallelogram let down by 60°: (4 kg + ½·1 kg) g sin 60°, held back by the beam',
        unit: 'N',
        published: 4.5 * 9.80665 * Math.sin(60 * DEGREE),
        computed: () => forcesOf(parallelogram(), 'beam', [0.5, 0, 0.5])[0]!.fold.back,
        tolerance: CLOSED,
      },
    ],
  },
  {
    id: 'effort-falling-part',
    title: 'A rod 0.8 m long that falls from level about its end',
    source: `${WORK}; v = √(3 g ℓ) at the tip`,
    standing: 'theory',
    rows: [
      {
        quantity: 'speed of the tip',
        unit: 'm/s',
        published: Math.sqrt(3 * g * 0.8),
        computed: () => rod([0, slender, slender]).fold.runawaySpeed,
        tolerance: TRAPEZOID,
        wrong: { what: 'all mass in the middle', computed: () => rod([0, 0, 0]).fold.runawaySpeed },
      },
      {
        quantity: 'energy set free, m g ℓ/2',
        unit: 'J',
        published: 2 * g * 0.4,
        computed: () => rod([0, slender, slender]).fold.runaway,
        tolerance: TRAPEZOID,
      },
    ],
  },
  {
    id: 'effort-orders',
    title: 'Orders in which some moves must follow others (linear extensions)',
    source:
      'R. P. Stanley: Enumerative Combinatorics, vol. 1, 2nd ed., 2012, ch. 3.5: n!/k! for a chain of k, n!/2ᵏ for k separate pairs; hook lengths for a tree',
    standing: 'theory',
    rows: [
      { quantity: 'free, 7 moves', unit: '', published: 5040, computed: () => counted(7, []), tolerance: COUNT },
      {
        quantity: 'one after another, 7 moves',
        unit: '',
        published: 2520,
        computed: () => counted(7, [[3, 1]]),
        tolerance: COUNT,
        wrong: {
          what: 'two after the same',
          computed: () =>
            counted(7, [
              [3, 1],
              [2, 1],
            ]),
        },
      },
      {
        quantity: 'chain of three, 6 moves',
        unit: '',
        published: 120,
        computed: () =>
          counted(6, [
            [1, 0],
            [2, 1],
          ]),
        tolerance: COUNT,
      },
      {
        quantity: 'three pairs, 6 moves',
        unit: '',
        published: 90,
        computed: () =>
          counted(6, [
            [1, 0],
            [3, 2],
            [5, 4],
          ]),
        tolerance: COUNT,
      },
      {
        quantity: 'a root, two branches, two leaves on one: 5!/(5·3·1·1·1)',
        unit: '',
        published: 8,
        computed: () =>
          counted(5, [
            [1, 0],
            [2, 0],
            [3, 1],
            [4, 1],
          ]),
        tolerance: COUNT,
      },
    ],
  },
  {
    id: 'effort-eccentric-sticks',
    title: 'How far before dead centre friction holds an eccentric',
    source: 'balance e sin φ = μ (R + r + e cos φ): sin(φ − ρ) = μ (R + r)/(e √(1 + μ²)), ρ = arctan μ; theory',
    standing: 'theory',
    rows: [0.1, 0.15].map((mu) => ({
      quantity: `R 7, r 2, e 3 mm, μ ${mu}`,
      unit: 'deg',
      published: (Math.asin((mu * 9) / (3 * Math.sqrt(1 + mu * mu))) + Math.atan(mu)) / DEGREE,
      computed: () => closeLatch({ kind: 'cam', ...eccentric, pinRadius: 2, friction: mu }, 2000).sticks / DEGREE,
      tolerance: { relative: 1e-9, why: 'bisected to the last digit' },
      ...(mu === 0.1
        ? {
            wrong: {
              what: 'no friction in the pin',
              computed: () =>
                closeLatch({ kind: 'cam', ...eccentric, pinRadius: 0, friction: mu }, 2000).sticks / DEGREE,
            },
          }
        : {}),
    })),
  },
];
