/** Rider: the drawn public against the survey's own percentiles, coverage of saddle ranges, joint coverage. */
import {
  drawPopulation,
  type Measure,
  measureOf,
  type Population,
  PUBLICS,
  quantileOf,
  SADDLE_RULE,
  shareOf,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const ANSUR = 'ANSUR II public data (Gordon et al. 2014, NATICK/TR-15/007)';
type Sex = 'male' | 'female';
/** Enough that the sample's own error is a quarter of the tolerances. */
const N = 100_000;
const drawn = new Map<string, Population>();
function people(women: number): Population {
  const key = String(women);
  const known = drawn.get(key);
  if (known) return known;
  const fresh = drawPopulation({ women, ...PUBLICS.survey }, N, 20);
  drawn.set(key, fresh);
  return fresh;
}
const of = (sex: Sex): Population => people(sex === 'female' ? 1 : 0);
const percentile = (sex: Sex, measure: Measure, p: number): number => quantileOf(measureOf(of(sex), measure).sort(), p);
const thigh = (sex: Sex): Float64Array => {
  const knee = measureOf(of(sex), 'epicondyle');
  return measureOf(of(sex), 'trochanter').map((x, i) => x - knee[i]!);
};

const MM = {
  absolute: 2,
  why: 'the sample’s own error at the 5th and 95th percentile is 0.4 mm; curves through five percentiles and rounding to a millimetre leave the rest',
} as const;
const KG = { absolute: 0.3, why: 'the sample’s own error is 0.1 kg; printed to 0.1 kg' } as const;
const WORDS = ['5th', '50th', '95th'] as const;
const P = [0.05, 0.5, 0.95] as const;

const lengths = (sex: Sex, name: string, measure: Measure, printed: readonly number[]): Row[] =>
  printed.map((published, k) => ({
    quantity: `${sex === 'male' ? 'men' : 'women'}: ${name}, ${WORDS[k]}`,
    unit: 'mm',
    published,
    computed: () => 1000 * percentile(sex, measure, P[k]!),
    tolerance: MM,
  }));
const masses = (sex: Sex, printed: readonly number[]): Row[] =>
  printed.map((published, k) => ({
    quantity: `${sex === 'male' ? 'men' : 'women'}: mass, ${WORDS[k]}`,
    unit: 'kg',
    published,
    computed: () => percentile(sex, 'mass', P[k]!),
    tolerance: KG,
  }));

/** Share of one sex inside its own 5th to 95th percentile of each measure in turn. */
function inside(sex: Sex, measures: readonly Measure[]): number {
  const columns = measures.map((m) => measureOf(of(sex), m));
  const limits = columns.map((c) => {
    const sorted = c.slice().sort();
    return [quantileOf(sorted, 0.05), quantileOf(sorted, 0.95)] as const;
  });
  let n = 0;
  for (let i = 0; i < N; i++) if (columns.every((c, k) => c[i]! >= limits[k]![0] && c[i]! <= limits[k]![1])) n++;
  return n / N;
}
const saddles = (from: number, to: number): number =>
  measureOf(people(0.5), 'inseam').filter((m) => m * SADDLE_RULE >= from && m * SADDLE_RULE <= to).length / N;
const JOINT = {
  absolute: 0.015,
  why: 'measured to whole millimetres: the survey’s own 90 % count 0.903, so up to 0.012 of every share are ties; the sample’s error is 0.001',
} as const;

export const populationCases: readonly Case[] = [
  {
    id: 'rider.population',
    title: 'Percentiles of the drawn public',
    source: `${ANSUR}: percentiles of 4082 men and 1986 women`,
    standing: 'recomputed',
    rows: [
      ...lengths('male', 'stature', 'stature', [1648, 1755, 1870]),
      ...lengths('female', 'stature', 'stature', [1525, 1626, 1740]),
      ...lengths('male', 'inseam', 'inseam', [771, 845, 925]),
      ...lengths('female', 'inseam', 'inseam', [712, 780, 857]),
      ...lengths('male', 'sitting height', 'sitting', [860, 918, 977]),
      ...lengths('female', 'sitting height', 'sitting', [803, 857, 912]),
      ...lengths('male', 'wrist height', 'wrist', [780, 847, 917]),
      ...lengths('female', 'wrist height', 'wrist', [732.3, 794, 860]),
      ...[364, 408, 458].map(
        (published, k): Row => ({
          quantity: `men: hip to knee, ${WORDS[k]}`,
          unit: 'mm',
          published,
          computed: () => 1000 * quantileOf(thigh('male').sort(), P[k]!),
          tolerance: MM,
          ...(k === 0
            ? {
                wrong: {
                  what: 'percentiles subtracted: 5th of one height less 5th of the other',
                  computed: () =>
                    1000 * (percentile('male', 'trochanter', 0.05) - percentile('male', 'epicondyle', 0.05)),
                },
              }
            : {}),
        }),
      ),
      ...masses('male', [64.4, 84.6, 110.7]),
      ...masses('female', [51.3, 66.8, 87.1]).map((row, k) =>
        k === 2
          ? {
              ...row,
              wrong: {
                what: 'mass as normal instead of lognormal',
                computed: () => PUBLICS.survey.female.mass + 1.645 * PUBLICS.survey.female.massSpread,
              },
            }
          : row,
      ),
    ],
  },
  {
    id: 'rider.saddle-coverage',
    title: 'Share of riders whose saddle height a range covers',
    source: `0.883 × inseam of ${ANSUR}, women and men in equal shares`,
    standing: 'recomputed',
    rows: [
      [680, 780, 0.663],
      [629, 817, 0.949],
      [600, 850, 0.992],
    ].map(
      ([from, to, published], k): Row => ({
        quantity: `${from} to ${to} mm`,
        unit: '-',
        published: published!,
        computed: () => saddles(from! / 1000, to! / 1000),
        tolerance: { absolute: 0.006, why: 'the sample’s error is 0.0015; heights were measured to a millimetre' },
        ...(k === 0
          ? {
              wrong: {
                what: 'saddle height from the mean inseam of each rider’s stature',
                computed: () => {
                  const p = people(0.5);
                  const stature = measureOf(p, 'stature');
                  const n = stature.filter((s, i) => {
                    const inseam = p.female[i] ? -0.1791 + 0.5904 * s : -0.17632 + 0.5821 * s;
                    return SADDLE_RULE * inseam >= 0.68 && SADDLE_RULE * inseam <= 0.78;
                  }).length;
                  return n / N;
                },
              },
            }
          : {}),
      }),
    ),
  },
  {
    id: 'rider.joint-coverage',
    title: 'Share inside its own 5th to 95th percentile of one, two and three measures',
    source: `${ANSUR}: inseam, then also sitting height, then also thumb-tip reach`,
    standing: 'recomputed',
    rows: (
      [
        ['male', [0.904, 0.831, 0.776]],
        ['female', [0.903, 0.818, 0.765]],
      ] as const
    ).flatMap(([sex, printed]): Row[] =>
      printed.map((published, k) => ({
        quantity: `${sex === 'male' ? 'men' : 'women'}: ${['inseam', 'and sitting height', 'and thumb-tip reach'][k]}`,
        unit: '-',
        published,
        computed: () => inside(sex, (['inseam', 'sitting', 'thumb_reach'] as const).slice(0, k + 1)),
        tolerance: JOINT,
        ...(k === 2 ? { wrong: { what: 'shares multiplied as if independent', computed: () => 0.9 * 0.9 * 0.9 } } : {}),
      })),
    ),
  },
  {
    id: 'rider.share-interval',
    title: 'Confidence interval of a share',
    source: 'E. B. Wilson 1927, J. Amer. Statist. Assoc. 22:209–212, worked by hand: 81 of 263; 0 of 20',
    standing: 'theory',
    rows: [
      {
        quantity: '81 of 263: lower end',
        unit: '-',
        published: 0.2553,
        computed: () => shareOf(81, 263).low,
        tolerance: { absolute: 5e-5, why: 'printed to four digits' },
        wrong: {
          what: 'normal interval p ± z √(p(1−p)/n)',
          computed: () => 81 / 263 - 1.96 * Math.sqrt(((81 / 263) * (182 / 263)) / 263),
        },
      },
      {
        quantity: '81 of 263: upper end',
        unit: '-',
        published: 0.3662,
        computed: () => shareOf(81, 263).high,
        tolerance: { absolute: 5e-5, why: 'printed to four digits' },
      },
      {
        quantity: '0 of 20: upper end',
        unit: '-',
        published: 0.1611,
        computed: () => shareOf(0, 20).high,
        tolerance: { absolute: 5e-5, why: 'z²/(n + z²) = 3.8415/23.8415' },
      },
    ],
  },
];
