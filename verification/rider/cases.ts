/** Rider: agreement with the segment table, published fit rules, worked leg linkage and reach. */
import {
  bodyLinks,
  flexionAt,
  inseam,
  kneeFlexion,
  saddleDistance,
  segmentSum,
  segmentTable,
  type Vec3,
} from '#kernel';
import type { Case, Row } from '../case.ts';
import { populationCases } from './population-cases.ts';
import { roomCases } from './room-cases.ts';
import { standing } from './standing.ts';

const DEG = 180 / Math.PI;
const MAN = { stature: 1.75621, mass: 85.52, sex: 'male' } as const;
const WOMAN = { stature: 1.62847, mass: 67.76, sex: 'female' } as const;
const DE_LEVA = 'de Leva 1996, J. Biomechanics 29(9):1223–1230, Table 4';
const ANSUR = 'ANSUR II public data (Gordon et al. 2014, NATICK/TR-15/007), means of 4082 men and 1986 women';

/** Worked leg: hip 55 mm above the saddle at s along a 72° seat line, crank in line at the bottom, heel up by ψ. */
const links = bodyLinks(MAN);
const SEAT = 72 / DEG;
const hipAt = (s: number): Vec3 => [-s * Math.cos(SEAT), 0, s * Math.sin(SEAT) + 0.055];
const pedalAt = (theta: number): Vec3 => [0.17 * Math.sin(theta), 0, 0.17 * Math.cos(theta)];
const BOTTOM: Vec3 = [0.17 * Math.cos(SEAT), 0, -0.17 * Math.sin(SEAT)];
const flexion = (s: number, pedal: Vec3, pitch: number): number =>
  kneeFlexion(links, hipAt(s / 1000), pedal, pitch / DEG) * DEG;
const HUNDREDTH = {
  absolute: 0.01,
  why: 'printed to 0.01°, and links printed to 0.01 mm move it by as much again',
} as const;

/** Grip from the hip: trunk angle α, shoulder β from the trunk downward-forward, elbow flexion ε; mm. */
function grip(r: typeof MAN | typeof WOMAN, alpha: number, beta: number, epsilon: number): readonly [number, number] {
  const l = bodyLinks(r);
  const down = alpha + 180 + beta;
  const x =
    l.trunk * Math.cos(alpha / DEG) + l.upperArm * Math.cos(down / DEG) + l.forearm * Math.cos((down + epsilon) / DEG);
  const z =
    l.trunk * Math.sin(alpha / DEG) + l.upperArm * Math.sin(down / DEG) + l.forearm * Math.sin((down + epsilon) / DEG);
  return [x * 1000, z * 1000];
}
const MILLIMETRE = { absolute: 1, why: 'printed to a millimetre from palm and forearm of the same means' } as const;
const reachRows = (name: string, r: typeof MAN | typeof WOMAN, a: number, b: number, x: number, z: number): Row[] => [
  {
    quantity: `${name}, trunk ${a}°, shoulder ${b}°, elbow 20°: ahead`,
    unit: 'mm',
    published: x,
    computed: () => grip(r, a, b, 20)[0],
    tolerance: MILLIMETRE,
  },
  {
    quantity: `${name}, trunk ${a}°, shoulder ${b}°, elbow 20°: above`,
    unit: 'mm',
    published: z,
    computed: () => grip(r, a, b, 20)[1],
    tolerance: MILLIMETRE,
  },
];

export const cases: readonly Case[] = [
  {
    id: 'rider.segment-sum',
    title: 'Segment masses sum to the body',
    source: DE_LEVA,
    standing: 'published',
    rows: [
      {
        quantity: 'men',
        unit: '%',
        published: 100,
        computed: () => segmentSum(segmentTable('male')),
        tolerance: { absolute: 0.005, why: 'rows printed to 0.01 %' },
        wrong: {
          what: 'one of each limb counted',
          computed: () => Object.values(segmentTable('male').rows).reduce((a, r) => a + r.mass_percent, 0),
        },
      },
      {
        quantity: 'women',
        unit: '%',
        published: 99.99,
        computed: () => segmentSum(segmentTable('female')),
        tolerance: { absolute: 0.005, why: 'rows printed to 0.01 %; the table itself sums to 99.99' },
      },
    ],
  },
  {
    id: 'rider.standing',
    title: 'A standing body of our links and segments: height of its centre of mass',
    source: 'CoM height 55–57 % of stature in men, 1–2 % lower in women: anatomy textbooks',
    standing: 'memory',
    rows: (
      [
        ['man', MAN, 0.56],
        ['woman', WOMAN, 0.55],
      ] as const
    ).flatMap(([name, r, com]): Row[] => [
      {
        quantity: `${name}: CoM height over stature`,
        unit: '-',
        published: com,
        computed: () => standing(r).rigid.com[2] / r.stature,
        tolerance: {
          absolute: 0.02,
          why: 'textbooks give ±1 % between people, links and segments come from two populations: another ±1 %',
        },
        wrong: {
          what: 'masses of thighs and shanks exchanged',
          computed: () => standing(r).rigid.com[2] / r.stature - 2 * (0.1416 - 0.0433) * 0.235,
        },
      },
    ]),
  },
  {
    id: 'rider.knee-trigonometry',
    title: 'Two-circle knee',
    source: 'Law of cosines, worked by hand: links 430 mm; links 428.75 and 430.50 mm',
    standing: 'theory',
    rows: [
      {
        quantity: 'flexion at 800 mm',
        unit: 'deg',
        published: 43.058,
        computed: () => flexionAt(430, 430, 800) * DEG,
        tolerance: { absolute: 5e-4, why: 'printed to 0.001°' },
        wrong: { what: 'included angle for flexion', computed: () => 180 - flexionAt(430, 430, 800) * DEG },
      },
      {
        quantity: 'flexion at 830 mm',
        unit: 'deg',
        published: 30.356,
        computed: () => flexionAt(430, 430, 830) * DEG,
        tolerance: { absolute: 5e-4, why: 'printed to 0.001°' },
      },
      {
        quantity: 'flexion at 829.97 mm',
        unit: 'deg',
        published: 30,
        computed: () => flexionAt(428.75, 430.5, 829.97) * DEG,
        tolerance: { absolute: 0.005, why: '0.005 mm of the printed distance is 0.002°' },
      },
    ],
  },
  {
    id: 'rider.leg',
    title: 'Leg of the mean man on a 170 mm crank',
    source: `Planar hip–knee–ankle linkage worked by hand with links from ${ANSUR}; hip 55 mm above the saddle`,
    standing: 'recomputed',
    rows: [
      {
        quantity: 'bottom, saddle 747.0 mm, heel up 15°',
        unit: 'deg',
        published: 21.32,
        computed: () => flexion(747, BOTTOM, 15),
        tolerance: HUNDREDTH,
        wrong: { what: 'heel down by 15°', computed: () => flexion(747, BOTTOM, -15) },
      },
      {
        quantity: 'bottom, saddle 720 mm',
        unit: 'deg',
        published: 36.29,
        computed: () => flexion(720, BOTTOM, 15),
        tolerance: HUNDREDTH,
      },
      {
        quantity: 'bottom, saddle 700 mm',
        unit: 'deg',
        published: 44.3,
        computed: () => flexion(700, BOTTOM, 15),
        tolerance: HUNDREDTH,
      },
      {
        quantity: 'bottom, heel up 25°',
        unit: 'deg',
        published: 27.41,
        computed: () => flexion(747, BOTTOM, 25),
        tolerance: HUNDREDTH,
      },
      {
        quantity: 'crank up',
        unit: 'deg',
        published: 109.28,
        computed: () => flexion(747, pedalAt(0), 15),
        tolerance: HUNDREDTH,
      },
      {
        quantity: 'crank forward',
        unit: 'deg',
        published: 64.91,
        computed: () => flexion(747, pedalAt(Math.PI / 2), 15),
        tolerance: HUNDREDTH,
      },
    ],
  },
  {
    id: 'rider.saddle',
    title: 'Saddle height from inseam',
    source: `0.883 × inseam from the crank’s centre (common fitting rule); inseam from ${ANSUR}`,
    standing: 'published',
    rows: [
      {
        quantity: 'mean man’s inseam from stature',
        unit: 'mm',
        published: 845.93,
        computed: () => inseam(MAN).mean * 1000,
        tolerance: { absolute: 0.1, why: 'a regression passes through the means; coefficients printed to four digits' },
      },
      {
        quantity: 'mean woman’s inseam from stature',
        unit: 'mm',
        published: 782.32,
        computed: () => inseam(WOMAN).mean * 1000,
        tolerance: { absolute: 0.1, why: 'a regression passes through the means; coefficients printed to four digits' },
      },
      {
        quantity: 'mean man: crank to saddle',
        unit: 'mm',
        published: 747,
        computed: () => saddleDistance(MAN).mean * 1000,
        tolerance: { absolute: 0.1, why: '0.883 × 845.93 printed to 0.1 mm' },
        wrong: { what: '1.09 × inseam, the rule from the pedal', computed: () => inseam(MAN).mean * 1090 },
      },
      {
        quantity: '1 σ between riders of one stature',
        unit: 'mm',
        published: 21,
        computed: () => saddleDistance(MAN).sigma * 1000,
        tolerance: { absolute: 0.5, why: 'printed to a millimetre' },
      },
    ],
  },
  {
    id: 'rider.hip-calibration',
    title: 'Hip above saddle leaves 30° at the bottom under the saddle rule',
    source:
      'Recommended knee flexion 25–30° (Bini, Hume & Croft 2011) to 25–35° (Holmes et al. 1994); calibrated to 30°',
    standing: 'recomputed',
    rows: (
      [
        ['man', MAN],
        ['woman', WOMAN],
      ] as const
    ).map(
      ([name, r]): Row => ({
        quantity: `mean ${name}`,
        unit: 'deg',
        published: 30,
        computed: () => {
          const l = bodyLinks(r);
          const s = saddleDistance(r).mean;
          const hip: Vec3 = [-s * Math.cos(SEAT), 0, s * Math.sin(SEAT) + l.hipAboveSaddle];
          return kneeFlexion(l, hip, BOTTOM) * DEG;
        },
        tolerance: {
          absolute: 0.5,
          why: 'the calibrated heights are printed to 0.1 mm, and 2 mm of height are about 1°',
        },
        ...(name === 'man'
          ? {
              wrong: {
                what: 'trochanter less crotch height, 55 mm, uncalibrated',
                computed: () => flexion(747, BOTTOM, 15),
              },
            }
          : {}),
      }),
    ),
  },
  {
    id: 'rider.reach',
    title: 'Grip from the hip',
    source: `Trunk, upper arm and forearm of ${ANSUR}, worked by hand`,
    standing: 'recomputed',
    rows: [
      ...reachRows('mean man', MAN, 90, 45, 533, 165),
      ...reachRows('mean woman', WOMAN, 90, 45, 488, 145),
      ...reachRows('mean man', MAN, 75, 60, 672, 147),
      ...reachRows('mean woman', WOMAN, 75, 60, 615, 128),
      ...reachRows('mean man', MAN, 65, 70, 761, 114),
    ].map((row, i) =>
      i === 0
        ? { ...row, wrong: { what: 'shoulder angle from the vertical', computed: () => grip(MAN, 75, 45, 20)[0] } }
        : row,
    ),
  },
  ...populationCases,
  ...roomCases,
];
