/** Lifting, hand forces, carrying and rolling: published examples and tables. */
import {
  BASIC_FORCES,
  type Coupling,
  enduranceSeconds,
  type ForceKind,
  forceCap,
  gripHeight,
  type LiftOptions,
  liftLimits,
  PUBLICS,
  RARE_HOLD,
  rollForce,
  SHOE_HEIGHT,
  shareAble,
  strengthModel,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const NIOSH =
  'T. R. Waters, V. Putz-Anderson, A. Garg: Applications Manual for the Revised NIOSH Lifting Equation, NIOSH 94-110';
const INCH = 0.0254;
const POUND = 0.45359237;
const DEGREE = Math.PI / 180;

/** Inches, pounds. */
const manual = (
  [h, v]: readonly [number, number],
  to: readonly [number, number] | undefined,
  options: LiftOptions,
  coupling: Coupling = 'fair',
) =>
  liftLimits(
    {
      origin: { reach: h * INCH, height: v * INCH, turn: 0 },
      ...(to ? { destination: { reach: to[0] * INCH, height: to[1] * INCH, turn: 0 } } : {}),
      coupling,
      perMinute: 0.2,
      hours: 1,
    },
    { system: 'inch', ...options },
  );
const press = (options: LiftOptions) => manual([23, 15], [23, 64], options);
const PRINTED_LB = { absolute: 0.05, why: 'printed to 0.1' } as const;

/** cm; the folded bicycle, hands at 45 cm. */
const bicycle = (h: number, v: number, turn: number, coupling: Coupling) =>
  liftLimits({
    origin: { reach: h / 100, height: 0.45, turn: 0 },
    destination: { reach: h / 100, height: v / 100, turn: turn * DEGREE },
    coupling,
    perMinute: 0.2,
    hours: 1,
  });
const liftRows = (
  words: string,
  limit: number,
  indices: readonly number[],
  h: number,
  v: number,
  c: Coupling,
): Row[] => [
  {
    quantity: `${words}: limit`,
    unit: 'kg',
    published: limit,
    computed: () => bicycle(h, v, 0, c).limit,
    tolerance: { absolute: 0.05, why: 'printed to 0.1 kg' },
  },
  ...[9, 11, 13, 16].map((kg, i) => ({
    quantity: `${words}: index of ${kg} kg`,
    unit: '',
    published: indices[i]!,
    computed: () => kg / bicycle(h, v, 0, c).limit,
    tolerance: { absolute: 0.006, why: 'printed to two decimals from a limit of one more digit' },
  })),
];

const designLimit = (words: string, kind: ForceKind, published: number): Row => ({
  quantity: words,
  unit: 'N',
  published,
  computed: () => 0.5 * forceCap(kind, 'anybody', RARE_HOLD),
  tolerance: { absolute: 0.5, why: 'printed to 1 N' },
});

const wrist = (sex: 'female' | 'male', z: number): number => {
  const people = PUBLICS.survey[sex];
  const below = (sex === 'female' ? 76.38 / 1628.47 : 81.13 / 1756.21) * people.stature;
  return 1000 * (gripHeight(sex, people, z) - SHOE_HEIGHT + below);
};
const Z5 = 1.6448536269514722;

export const liftCases: readonly Case[] = [
  {
    id: 'lifting-press',
    title: 'Loading punch press stock: H 23 in, V 15 to 64 in, 44 lb, fair coupling',
    source: `${NIOSH}, example 1 (inputs and results from memory; its product recomputed). The manual multiplies multipliers of two decimals and prints 0.44 for 10/23 = 0.435`,
    standing: 'memory',
    rows: [
      {
        quantity: 'limit at the origin',
        unit: 'lb',
        published: 16.3,
        computed: () => press({ rounded: true }).origin.limit / POUND,
        tolerance: PRINTED_LB,
        wrong: { what: 'multipliers not rounded', computed: () => press({}).origin.limit / POUND },
      },
      {
        quantity: 'limit at the destination',
        unit: 'lb',
        published: 14.5,
        computed: () => press({ rounded: true }).destination!.limit / POUND,
        tolerance: PRINTED_LB,
        wrong: {
          what: 'fair coupling counted above knuckle height too',
          computed: () => (0.95 * press({ rounded: true }).destination!.limit) / POUND,
        },
      },
      {
        quantity: 'index at the origin',
        unit: '',
        published: 2.7,
        computed: () => (44 * POUND) / press({ rounded: true }).origin.limit,
        tolerance: PRINTED_LB,
      },
      {
        quantity: 'index at the destination',
        unit: '',
        published: 3.0,
        computed: () => (44 * POUND) / press({ rounded: true }).destination!.limit,
        tolerance: PRINTED_LB,
      },
      {
        quantity: 'limit at the origin, multipliers not rounded',
        unit: 'lb',
        published: 16.02,
        computed: () => press({}).origin.limit / POUND,
        tolerance: { absolute: 0.005, why: 'printed to two decimals' },
      },
      {
        quantity: 'limit at the destination, multipliers not rounded',
        unit: 'lb',
        published: 14.15,
        computed: () => press({}).destination!.limit / POUND,
        tolerance: { absolute: 0.005, why: 'printed to two decimals' },
      },
    ],
  },
  {
    id: 'lifting-second',
    title: 'A second published product: H 20 in, V 6 in, D 16 in, fair coupling',
    source: `${NIOSH}: 51 · 0.50 · 0.82 · 0.93 · 0.95 = 18.4 lb (the product is 18.47; printed 18.4)`,
    standing: 'published',
    rows: [
      {
        quantity: 'limit',
        unit: 'lb',
        published: 18.4,
        computed: () => manual([20, 6], undefined, { rounded: true, distance: 16 * INCH }).limit / POUND,
        tolerance: { absolute: 0.1, why: 'printed to 0.1, cut off instead of rounded' },
        wrong: {
          what: 'height multiplier on the wrong side of 30 in',
          computed: () => manual([20, 54], undefined, { rounded: true, distance: 16 * INCH }, 'good').limit / POUND,
        },
      },
    ],
  },
  {
    id: 'lifting-bicycle',
    title: 'A folded bicycle lifted with two hands, held at 45 cm',
    source: `${NIOSH}, metric form, multiplied out by hand for H 30, 40, 45 cm and hands at 80, 115, 150 cm`,
    standing: 'recomputed',
    rows: [
      ...liftRows('onto a train floor', 16.5, [0.54, 0.66, 0.79, 0.97], 30, 80, 'good'),
      ...liftRows('over a boot sill', 11.2, [0.8, 0.98, 1.16, 1.43], 40, 115, 'good'),
      ...liftRows('onto a rack', 8.5, [1.05, 1.29, 1.52, 1.87], 45, 150, 'fair'),
      {
        quantity: 'overhead, hands at 190 cm, turned by 30°: product of the multipliers',
        unit: 'kg',
        published: 5.8,
        computed: () => {
          const { HM, VM, DM, AM, FM, CM } = bicycle(50, 190, 30, 'fair').destination!.multipliers;
          return 23 * HM * VM * DM * AM * FM * CM;
        },
        tolerance: { absolute: 0.05, why: 'printed to 0.1 kg' },
      },
      {
        quantity: 'overhead, hands at 190 cm: limit, the equation ends at 175 cm',
        unit: 'kg',
        published: 0,
        computed: () => bicycle(50, 190, 30, 'fair').limit,
        tolerance: { absolute: 0, why: 'outside the equation no load is allowed' },
      },
    ],
  },
  {
    id: 'hand-force-limits',
    title: 'Hand forces for anybody, a few times a day: half of the 1st percentile',
    source: 'EN 1005-3:2002+A1:2008, table of basic forces, r ≤ 0.5',
    standing: 'published',
    rows: [
      {
        ...designLimit('squeeze', 'grip', 92),
        wrong: { what: '15th percentile', computed: () => 0.5 * forceCap('grip', 'workers', RARE_HOLD) },
      },
      designLimit('lever pulled down by one arm', 'arm_down', 22),
      designLimit('push, standing', 'stand_push', 59.5),
      designLimit('pull, standing', 'stand_pull', 48),
    ],
  },
  {
    id: 'hand-force-shares',
    title: 'Shares of an even mix of women and men at the standard’s percentiles',
    source: 'EN 1005-3:2002+A1:2008: F_B is the 15th (work) and 1st (home) percentile',
    standing: 'theory',
    rows: (['grip', 'arm_down', 'stand_pull', 'pedal_leg'] as const).flatMap((kind): Row[] => [
      {
        quantity: `${kind}: able at the 15th percentile`,
        unit: '%',
        published: 85,
        computed: () => 100 * shareAble(kind, BASIC_FORCES[kind].workers, RARE_HOLD),
        tolerance: { absolute: 1e-8, why: 'solved by bisection' },
        ...(kind === 'grip'
          ? { wrong: { what: 'women alone', computed: () => 100 * shareAble(kind, 250, RARE_HOLD, 1) } }
          : {}),
      },
      {
        quantity: `${kind}: able at the 1st percentile`,
        unit: '%',
        published: 99,
        computed: () => 100 * shareAble(kind, BASIC_FORCES[kind].anybody, RARE_HOLD),
        tolerance: { absolute: 1e-8, why: 'solved by bisection' },
      },
    ]),
  },
  {
    id: 'grip-strength',
    title: 'Grip strength of women and men against measured young adults',
    source: 'D. Leyk et al. 2007, Eur. J. Appl. Physiol. 99:415–421: means at 20–25 years',
    standing: 'published',
    rows: [
      {
        quantity: 'women',
        unit: 'N',
        published: 329,
        computed: () => strengthModel('grip').female,
        tolerance: { relative: 0.2, why: 'ours are adults of all working ages, from a standard’s percentiles' },
        wrong: { what: 'the mix’s 1st percentile', computed: () => BASIC_FORCES.grip.anybody },
      },
      {
        quantity: 'men',
        unit: 'N',
        published: 541,
        computed: () => strengthModel('grip').male,
        tolerance: { relative: 0.2, why: 'ours are adults of all working ages, from a standard’s percentiles' },
      },
    ],
  },
  {
    id: 'holding-time',
    title: 'How long half of the greatest force is held',
    source: 'W. Rohmert 1960, Int. Z. angew. Physiol. 18:123 (from memory): about one minute',
    standing: 'memory',
    rows: [
      {
        quantity: 'time at 50 %',
        unit: 's',
        published: 60,
        computed: () => enduranceSeconds(0.5),
        tolerance: { relative: 0.15, why: 'about a minute: 51 to 69 s' },
        wrong: { what: 'three quarters of it', computed: () => enduranceSeconds(0.75) },
      },
    ],
  },
  {
    id: 'wrist-height',
    title: 'Height of the wrist, barefoot',
    source: 'ANSUR II (Gordon et al. 2014, NATICK/TR-15/007; public data): percentiles of the raw data',
    standing: 'published',
    rows: (
      [
        ['women, 5th percentile', 'female', -Z5, 732.3],
        ['women, mean', 'female', 0, 794.19],
        ['women, 95th percentile', 'female', Z5, 860],
        ['men, 5th percentile', 'male', -Z5, 780],
        ['men, 95th percentile', 'male', Z5, 917],
      ] as const
    ).map(([quantity, sex, z, published]) => ({
      quantity,
      unit: 'mm',
      published,
      computed: () => wrist(sex, z),
      tolerance: { absolute: 4, why: 'a normal distribution through skewed data' },
      ...(z === 0 ? { wrong: { what: 'men’s', computed: () => wrist('male', 0) } } : {}),
    })),
  },
  {
    id: 'rolling-castors',
    title: 'Rolling 12 kg on castors, coefficient 0.02 to 0.05',
    source: 'm·g·c; coefficient common practice, no source; here from a lever of 1 to 2.5 mm on a radius of 50 mm',
    standing: 'memory',
    rows: ([2.4, undefined, 5.9] as const).flatMap((published, i): Row[] =>
      published === undefined
        ? []
        : [
            {
              quantity: i === 0 ? 'least' : 'most',
              unit: 'N',
              published,
              computed: () => castors(0.05).force[i]!,
              tolerance: { absolute: 0.06, why: 'printed to 0.1 N' },
              wrong: { what: 'on tyres', computed: () => castors(0.2).force[i]! },
            },
          ],
    ),
  },
];

function castors(radius: number) {
  const rolling = {
    arrangement: 'in line',
    contacts: [
      [0.2, 0, 0],
      [-0.2, 0, 0],
    ],
    travel: [1, 0, 0],
    handleHeight: Number.NaN,
  } as const;
  return rollForce(12, [0, 0, 0.3], undefined, rolling, [radius, radius]);
}
