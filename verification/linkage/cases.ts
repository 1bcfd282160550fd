/** Linkages: agreement with textbook mechanisms. */
import { add, cross, mobilityCount, scale, unit } from '#kernel';
import { topic } from '../../src/study/calc/linkage.ts';
import type { Case, Row } from '../case.ts';
import {
  bennett,
  countOf,
  dhAxes,
  fourBar,
  fourBarAt,
  generic,
  hooke,
  loop,
  PLANE,
  pinnedBars,
  pivot,
  rankOf,
  sarrus,
  slide,
} from './mechanisms.ts';

const WHOLE = { absolute: 0, why: 'a whole number' } as const;
const DECIMALS_3 = { absolute: 5e-4, why: 'printed to 3 decimals' } as const;
const DECIMALS_4 = { absolute: 5e-5, why: 'printed to 4 decimals' } as const;
const DECIMALS_6 = { absolute: 5e-7, why: 'printed to 6 decimals' } as const;
const whole = (quantity: string, published: number, computed: () => number, wrong?: Row['wrong']): Row => ({
  quantity,
  unit: '1',
  published,
  computed,
  tolerance: WHOLE,
  ...(wrong ? { wrong } : {}),
});
const pins = (count: number): number[] => new Array<number>(count).fill(1);

const planar4 = loop([
  pivot([0, 0, 0], PLANE),
  pivot([10, 0, 40], PLANE),
  pivot([110, 0, 60], PLANE),
  pivot([100, 0, 0], PLANE),
]);
const planar3 = loop([pivot([0, 0, 0], PLANE), pivot([10, 0, 40], PLANE), pivot([110, 0, 60], PLANE)]);
const spherical = loop([
  pivot([0, 0, 0], [1, 0, 0]),
  pivot([0, 0, 0], [0.8, 0.5, 0.1]),
  pivot([0, 0, 0], [0.2, 0.9, 0.5]),
  pivot([0, 0, 0], [-0.1, 0.3, 1]),
]);
const bennett60 = bennett(100, 40, 70, 60);
/** The second axis moved by 4 mm, square to itself and to z. */
const displaced = {
  ...bennett60.input,
  joints: bennett60.input.joints.map((joint, i) => {
    if (i !== 1) return joint;
    const aside = scale(unit(cross([0, 0, 1], joint.axis)), 4);
    return { ...joint, at_mm: [...add(joint.at_mm, aside)] as [number, number, number] };
  }),
};
const threeSlides = loop([slide([1, 0, 0]), slide([0.3, 0, 1]), slide([-0.7, 0, 1])]);
const twoPivotsSlide = loop([pivot([0, 0, 0], PLANE), pivot([50, 0, 80], PLANE), slide([1, 0, 0.2], [90, 0, 0])]);
const square: readonly (readonly [number, number])[] = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];
const sides = [
  [0, 1],
  [1, 2],
  [2, 3],
  [3, 0],
] as const;
/** Watt's six-bar: a second four-bar on the coupler and the rocker of the first. */
const watt = {
  bodies: ['ground', 'crank', 'coupler', 'rocker', 'upper', 'lower'],
  ground: 'ground',
  joints: [
    { ...pivot([0, 0, 0], PLANE), between: ['ground', 'crank'] as [string, string] },
    { ...pivot([10, 0, 40], PLANE), between: ['crank', 'coupler'] as [string, string] },
    { ...pivot([110, 0, 60], PLANE), between: ['coupler', 'rocker'] as [string, string] },
    { ...pivot([100, 0, 0], PLANE), between: ['ground', 'rocker'] as [string, string] },
    { ...pivot([80, 0, 110], PLANE), between: ['coupler', 'upper'] as [string, string] },
    { ...pivot([160, 0, 130], PLANE), between: ['upper', 'lower'] as [string, string] },
    { ...pivot([150, 0, 50], PLANE), between: ['rocker', 'lower'] as [string, string] },
  ],
};

/** θ4 at which the rocker of Norton's four-bar, driven itself, stops. */
function rockerLimit(towards: number): number {
  const { input, theta4 } = fourBar(40, 120, 80, 100, true);
  // Halve the bracket between a value that closes and one that does not.
  let good = 0;
  let bad = towards;
  for (let i = 0; i < 24; i++) {
    const middle = (good + bad) / 2;
    const [pose] = topic.run({ ...input, drive: { joint: 3, values_deg: [middle] } }).poses;
    if (pose!.ok) good = middle;
    else bad = middle;
  }
  return theta4 + good;
}
/** Number of joints of a four-bar that can turn right round relative to their neighbours. */
const fullTurns = (a: number, b: number, c: number, d: number): number =>
  [0, 1, 2, 3].filter((joint) => {
    const { input } = fourBar(a, b, c, d, true);
    const values = Array.from({ length: 36 }, (_, i) => 10 * (i + 1));
    return topic.run({ ...input, drive: { joint, values_deg: values } }).poses.every((pose) => pose.ok);
  }).length;

const NORTON = 'R. L. Norton, Design of Machinery, McGraw-Hill, ch. 4, four-bar a = 40, b = 120, c = 80, d = 100 mm';
const norton = (open: boolean, theta2: number): { theta3: number; theta4: number } =>
  fourBarAt(40, 120, 80, 100, open, theta2);

const bennettAngle = (t1: number, joint: number, published: number, start: number): Row => ({
  quantity: `t${joint + 1} at t1 = ${t1}`,
  unit: 'deg',
  published,
  computed: () => {
    const [pose] = topic.run({ ...bennett60.input, drive: { joint: 0, values_deg: [t1 - 60] } }).poses;
    return start + pose!.joints[joint]!;
  },
  tolerance: DECIMALS_6,
});

export const cases: readonly Case[] = [
  {
    id: 'linkage-count',
    title: 'mobility by count',
    source:
      'Grübler 1883; Kutzbach; L.-W. Tsai, Mechanism Design: Enumeration of Kinematic Structures According to Function, CRC 2001; Norton, Design of Machinery',
    standing: 'theory',
    rows: [
      whole('planar, 3 bodies 3 pins', 0, () => mobilityCount(3, pins(3), 3)),
      whole('planar four-bar', 1, () => mobilityCount(4, pins(4), 3)),
      whole('planar five-bar', 2, () => mobilityCount(5, pins(5), 3)),
      whole('planar six-bar (Watt, Stephenson), 7 joints', 1, () => mobilityCount(6, pins(7), 3), {
        what: 'ground not counted among the bodies',
        computed: () => mobilityCount(5, pins(7), 3),
      }),
      whole('planar slider-crank', 1, () => mobilityCount(4, pins(4), 3)),
      whole('planar four-bar counted in space', -2, () => countOf(planar4)),
      whole('generic 7R loop', 1, () => countOf(generic(7))),
      whole('Sarrus 6R', 0, () => countOf(sarrus)),
    ],
  },
  {
    id: 'linkage-rank',
    title: 'mobility by the rank of the loop screws, where the count fails',
    source: 'G. T. Bennett, Engineering 76, 1903; P. T. Sarrus, Comptes Rendus 36, 1853; Tsai 2001 as above',
    standing: 'theory',
    rows: [
      whole('planar 4R', 1, () => rankOf(planar4)),
      whole('planar 3R', 0, () => rankOf(planar3)),
      whole('planar Watt six-bar', 1, () => rankOf(watt)),
      whole('spherical 4R', 1, () => rankOf(spherical)),
      whole('Sarrus 6R', 1, () => rankOf(sarrus)),
      whole('generic 4R', 0, () => rankOf(generic(4))),
      whole('generic 6R', 0, () => rankOf(generic(6))),
      whole('generic 7R', 1, () => rankOf(generic(7))),
      whole('Bennett 4R', 1, () => rankOf(bennett60.input), {
        what: 'one axis displaced by 4 mm: rigid',
        computed: () => rankOf(displaced),
      }),
      whole('Bennett 4R, dimensions rounded to 0.001 mm', 1, () =>
        rankOf({
          ...bennett60.input,
          joints: bennett60.input.joints.map((joint) => ({
            ...joint,
            at_mm: joint.at_mm.map((v) => Math.round(v * 1000) / 1000) as [number, number, number],
          })),
        }),
      ),
      whole('three slides in a plane', 1, () => rankOf(threeSlides), {
        what: 'by Grübler’s count, which does not know that the motion group has two dimensions only',
        computed: () => mobilityCount(3, pins(3), 3),
      }),
      whole('two pivots and a slide, 3 bodies', 0, () => rankOf(twoPivotsSlide)),
      whole('three pivots in a line (dead position)', 0, () =>
        rankOf(loop([pivot([0, 0, 0], PLANE), pivot([60, 0, 0], PLANE), pivot([100, 0, 0], PLANE)])),
      ),
    ],
  },
  {
    id: 'linkage-calladine',
    title: 'mechanisms and self-stress of pinned frames in the plane: s − m = b − 2j + 3',
    source: 'J. C. Maxwell 1864; C. R. Calladine, Int. J. Solids Struct. 14, 1978, 161–172',
    standing: 'theory',
    rows: [
      whole('triangle, m', 0, () =>
        rankOf(
          pinnedBars(square.slice(0, 3), [
            [0, 1],
            [1, 2],
            [2, 0],
          ]),
        ),
      ),
      whole('square, m', 1, () => rankOf(pinnedBars(square, sides))),
      whole('braced square, m', 0, () => rankOf(pinnedBars(square, [...sides, [0, 2]]))),
      whole('doubly braced square, m', 0, () => rankOf(pinnedBars(square, [...sides, [0, 2], [1, 3]]))),
      whole('doubly braced square, m − s by count', -1, () =>
        mobilityCount(6, pins(pinnedBars(square, [...sides, [0, 2], [1, 3]]).joints.length), 3),
      ),
    ],
  },
  {
    id: 'linkage-norton',
    title: 'position of a four-bar',
    source: `${NORTON}; figures recalled, confirmed by the quadratic of Freudenstein’s equation`,
    standing: 'memory',
    rows: [
      {
        quantity: 'θ4 at θ2 = 40, open',
        unit: 'deg',
        published: 57.325,
        computed: () => norton(true, 40).theta4,
        tolerance: DECIMALS_3,
        wrong: { what: 'coupler and rocker exchanged', computed: () => fourBarAt(40, 80, 120, 100, true, 40).theta4 },
      },
      {
        quantity: 'θ3 at θ2 = 40, open',
        unit: 'deg',
        published: 20.298,
        computed: () => norton(true, 40).theta3,
        tolerance: DECIMALS_3,
      },
      {
        quantity: 'transmission angle at θ2 = 40, open',
        unit: 'deg',
        published: 37.027,
        computed: () => norton(true, 40).theta4 - norton(true, 40).theta3,
        tolerance: DECIMALS_3,
      },
      {
        quantity: 'θ4 at θ2 = 40, crossed',
        unit: 'deg',
        published: -98.005,
        computed: () => norton(false, 40).theta4,
        tolerance: DECIMALS_3,
      },
      {
        quantity: 'θ3 at θ2 = 40, crossed',
        unit: 'deg',
        published: -60.978,
        computed: () => norton(false, 40).theta3,
        tolerance: DECIMALS_3,
      },
    ],
  },
  {
    id: 'linkage-norton-turn',
    title: 'the same four-bar all the way round, its rocker’s limits, Grashof’s rule',
    source: `${NORTON}; limits by the law of cosines, angles by Freudenstein’s quadratic`,
    standing: 'recomputed',
    rows: [
      {
        quantity: 'θ4 at θ2 = 40',
        unit: 'deg',
        published: 57.32488,
        computed: () => norton(true, 40).theta4,
        tolerance: { absolute: 5e-6, why: 'given to 5 decimals' },
      },
      {
        quantity: 'θ4 at θ2 = 60',
        unit: 'deg',
        published: 64.9435,
        computed: () => norton(true, 60).theta4,
        tolerance: DECIMALS_4,
      },
      {
        quantity: 'θ4 at θ2 = 90',
        unit: 'deg',
        published: 80.2569,
        computed: () => norton(true, 90).theta4,
        tolerance: DECIMALS_4,
      },
      {
        quantity: 'θ4 at θ2 = 180',
        unit: 'deg',
        published: 121.1886,
        computed: () => norton(true, 180).theta4,
        tolerance: DECIMALS_4,
      },
      {
        quantity: 'θ4 at θ2 = 270',
        unit: 'deg',
        published: 123.8597,
        computed: () => norton(true, 270).theta4,
        tolerance: DECIMALS_4,
      },
      {
        quantity: 'least θ4 of the rocker',
        unit: 'deg',
        published: 54.9,
        computed: () => rockerLimit(-30),
        tolerance: DECIMALS_3,
      },
      {
        quantity: 'greatest θ4 of the rocker',
        unit: 'deg',
        published: 128.682,
        computed: () => rockerLimit(90),
        tolerance: DECIMALS_3,
      },
      whole('joints that turn right round, crank-rocker (the two on the crank)', 2, () => fullTurns(40, 120, 80, 100)),
      whole('joints that turn right round, triple-rocker 2, 4, 2, 1', 0, () => fullTurns(20, 40, 20, 10)),
    ],
  },
  {
    id: 'linkage-parallelogram',
    title: 'a parallelogram through its flat posture keeps its coupler parallel',
    source: 'closed form: opposite links equal, coupler angle constant',
    standing: 'theory',
    rows: [
      {
        quantity: 'coupler angle after 132 deg, 42 deg beyond flat',
        unit: 'deg',
        published: 0,
        computed: () => {
          const input = loop([
            pivot([0, 0, 0], PLANE),
            pivot([0, 0, 50], PLANE),
            pivot([90, 0, 50], PLANE),
            pivot([90, 0, 0], PLANE),
          ]);
          const [pose] = topic.run({ ...input, drive: { joint: 0, values_deg: [-132] } }).poses;
          return pose!.joints[0]! + pose!.joints[1]!;
        },
        tolerance: { absolute: 1e-9, why: 'exact; closure to 1e-13 m on 90 mm links' },
        wrong: {
          what: 'assembled on the other branch, crossed (last pin mirrored in the diagonal), 30 deg on',
          computed: () => {
            const input = loop([
              pivot([0, 0, 0], PLANE),
              pivot([0, 0, 50], PLANE),
              pivot([(90 * 5600) / 10600, 0, 50 - (100 * 8100) / 10600], PLANE),
              pivot([90, 0, 0], PLANE),
            ]);
            const [pose] = topic.run({ ...input, drive: { joint: 0, values_deg: [-30] } }).poses;
            return pose!.joints[0]! + pose!.joints[1]!;
          },
        },
      },
    ],
  },
  {
    id: 'linkage-bennett',
    title: 'Bennett’s spatial four-bar, α = 40, β = 70 deg, a = 100 mm',
    source:
      'G. T. Bennett, A new mechanism, Engineering 76, 1903; closure tan(t1/2) tan(t2/2) = sin((β+α)/2)/sin((β−α)/2), as in K. H. Hunt, Kinematic Geometry of Mechanisms, Oxford 1978',
    standing: 'theory',
    rows: [
      {
        quantity: 'b by Bennett’s condition',
        unit: 'mm',
        published: 146.19022,
        computed: () => bennett60.b,
        tolerance: { absolute: 5e-6, why: 'given to 5 decimals' },
      },
      {
        quantity: 'gap between the first axis and the fifth, which is the first again',
        unit: 'mm',
        published: 0,
        computed: () => {
          const { t2, b } = bennett60;
          const links = [
            { theta: 60, a: 100, alpha: 40 },
            { theta: t2, a: b, alpha: 70 },
            { theta: -60, a: 100, alpha: 40 },
            { theta: -t2, a: b, alpha: 70 },
          ];
          const last = dhAxes([...links, links[0]!])[4]!;
          return Math.max(...last.at.map(Math.abs), Math.abs(last.axis[2] - 1));
        },
        tolerance: { absolute: 1e-12, why: 'rounding of 100 mm' },
      },
      bennettAngle(30, 1, 170.321626, bennett60.t2),
      bennettAngle(30, 2, -30, -60),
      bennettAngle(30, 3, -170.321626, -bennett60.t2),
      { ...bennettAngle(60, 1, 159.323621, bennett60.t2) },
      bennettAngle(90, 1, 144.931125, bennett60.t2),
      bennettAngle(90, 2, -90, -60),
      bennettAngle(90, 3, -144.931125, -bennett60.t2),
      {
        quantity: 'tan(t1/2) tan(t2/2) at t1 = 132, traced in 100 steps',
        unit: '1',
        published: 3.16496,
        computed: () => {
          const values = Array.from({ length: 100 }, (_, i) => 0.72 * (i + 1));
          const last = topic.run({ ...bennett60.input, drive: { joint: 0, values_deg: values } }).poses.at(-1)!;
          const half = Math.PI / 360;
          return Math.tan(132 * half) * Math.tan((bennett60.t2 + last.joints[1]!) * half);
        },
        tolerance: { absolute: 5e-6, why: 'given to 5 decimals' },
        wrong: {
          what: 'β − α taken as α − β: the sign of the twist turned over',
          computed: () => Math.sin((55 * Math.PI) / 180) / Math.sin((-15 * Math.PI) / 180),
        },
      },
    ],
  },
  {
    id: 'linkage-hooke',
    title: 'Hooke’s joint: tan(out) = tan(in)/cos β',
    source: 'closed form of the universal joint, e.g. Hunt 1978; Norton, Design of Machinery',
    standing: 'theory',
    rows: [
      {
        quantity: 'out at β = 30, in = 45',
        unit: 'deg',
        published: 49.106605,
        computed: () => hooke(30, 45, true),
        tolerance: DECIMALS_6,
        wrong: {
          what: 'driving fork square to the plane of the shafts at the start',
          computed: () => hooke(30, 45, false),
        },
      },
      {
        quantity: 'out at β = 30, in = 60',
        unit: 'deg',
        published: 63.434949,
        computed: () => hooke(30, 60, true),
        tolerance: DECIMALS_6,
      },
    ],
  },
];
