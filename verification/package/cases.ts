/** Agreement of the package calculations (room, turning in, standing, holding shut, cables) with closed forms and worked figures. */
import {
  cornerMargin,
  edgeFactor,
  fitPlace,
  followCable,
  holdMargins,
  rotationAbout,
  setIdentity,
  solidOf,
  standing,
  treeFreedom,
  type Vec3,
} from '#kernel';
import type { Case } from '../case.ts';

const DEG = Math.PI / 180;
const box = (l: number, w: number, h: number): number[] => [
  0,
  0,
  h / 2,
  1,
  0,
  0,
  0,
  1,
  0,
  0,
  0,
  1,
  l / 2,
  w / 2,
  h / 2,
];
const UP: Vec3 = [0, 0, 1];
const tipOf = (base_mm: number, height_mm: number): number =>
  standing(solidOf({ boxes: [box(1, base_mm / 1000, 0.6)] }), [0, 0, height_mm / 1000], [], UP).tip / DEG;

/** Longest rod (bisected on the margin) that gets round a square corner of corridors p and q. */
function longest(p: number, q: number, breadth: number): number {
  let [short, long] = [0, 10 * (p + q)];
  for (let k = 0; k < 60; k++) {
    const middle = (short + long) / 2;
    if (cornerMargin(p, q, Math.PI / 2, middle, breadth) >= 0) short = middle;
    else long = middle;
  }
  return short;
}

const margin = (solid: ReturnType<typeof solidOf>, size: Vec3): number =>
  fitPlace(solid, { kind: 'box', size }, [{ name: 'standing', up: UP }]).margin ?? Number.NaN;

const swing = (n: number) =>
  Array.from({ length: n + 1 }, (_, k) => {
    const bodyT = new Float64Array(24);
    setIdentity(bodyT);
    rotationAbout(0, 0, 0, 0, 0, 1, (Math.PI * k) / n, bodyT, 12);
    return { move: 0, fraction: k / n, bodyT };
  });

export const cases: readonly Case[] = [
  {
    id: 'package-tip',
    title: 'Static tip angle of a block: atan(half base / height of the centre of mass)',
    source: 'Statics of a block on an incline (any textbook of statics); figures worked by hand',
    standing: 'theory',
    rows: [
      {
        quantity: 'half base 120 mm, height 300 mm',
        unit: 'deg',
        published: 21.8,
        computed: () => tipOf(240, 300),
        tolerance: { absolute: 0.05, why: 'printed to 0.1°' },
      },
      {
        quantity: 'half base 80 mm, height 320 mm',
        unit: 'deg',
        published: 14.0,
        computed: () => tipOf(160, 320),
        tolerance: { absolute: 0.05, why: 'printed to 0.1°' },
        wrong: {
          what: "height of the centre of mass ignored: half of the package's 600 mm taken",
          computed: () => tipOf(160, 300),
        },
      },
      {
        quantity: 'the same to round-off',
        unit: 'deg',
        published: Math.atan(0.25) / DEG,
        computed: () => tipOf(160, 320),
        tolerance: { absolute: 1e-6, why: 'closed form; the floor is flat to 1e-9 m' },
      },
    ],
  },
  {
    id: 'package-corner',
    title: 'Ladder round a square corner: (p^(2/3) + q^(2/3))^(3/2)',
    source: 'Classical ladder problem of calculus textbooks; cubes chosen so that the result is exact',
    standing: 'theory',
    rows: [
      {
        quantity: 'corridors 1 and 8',
        unit: 'm',
        published: 5 * Math.sqrt(5),
        computed: () => longest(1, 8, 0),
        tolerance: { absolute: 1e-5, why: 'margin proven to 1e-6 m, two metres of ladder per metre of margin' },
        wrong: {
          what: 'diagonal of the corner instead of the worst angle',
          computed: () => Math.sqrt(1 + 64),
        },
      },
      {
        quantity: 'corridors 1 and 1',
        unit: 'm',
        published: 2 * Math.SQRT2,
        computed: () => longest(1, 1, 0),
        tolerance: { absolute: 1e-5, why: 'as above' },
      },
      {
        quantity: 'corridors 1 and 1, package 0.3 wide: 2(√2 − 0.3)',
        unit: 'm',
        published: 2 * (Math.SQRT2 - 0.3),
        computed: () => longest(1, 1, 0.3),
        tolerance: { absolute: 1e-5, why: 'worst at 45° by symmetry; as above' },
      },
    ],
  },
  {
    id: 'package-room',
    title: 'Best yaw in a rectangular room',
    source: 'Plane geometry: a rod in a square lies on its diagonal; least width of a regular triangle is its height',
    standing: 'theory',
    rows: [
      {
        quantity: 'rod 1000 mm, Ø 40 mm, in a square of 800 mm',
        unit: 'mm',
        published: 800 - 1000 / Math.SQRT2 - 40,
        computed: () => 1000 * margin(solidOf({ capsules: [[-0.5, 0, 0, 0.5, 0, 0, 0.02]] }), [0.8, 0.8, 1]),
        tolerance: { absolute: 0.002, why: 'yaw proven to 1e-6 m' },
        wrong: {
          what: 'package left along the axes',
          computed: () => 800 - 1000 - 40,
        },
      },
      {
        quantity: 'triangle of rods, side 600 mm, Ø 20 mm, in a slot of 560 mm',
        unit: 'mm',
        published: 560 - 300 * Math.sqrt(3) - 20,
        computed: () => {
          const h = 0.3 * Math.sqrt(3);
          const corners: Vec3[] = [
            [0, 0, 0],
            [0.6, 0, 0],
            [0.3, h, 0],
          ];
          const rods = corners.map((c, i) => [...c, ...corners[(i + 1) % 3]!, 0.01]);
          return 1000 * margin(solidOf({ capsules: rods }), [2, 0.56, 1]);
        },
        tolerance: { absolute: 0.002, why: 'yaw proven to 1e-6 m' },
      },
    ],
  },
  {
    id: 'package-hold',
    title: 'Opening moment of a hinge by gravity, and a drop onto a spring',
    source: 'Statics (moment = weight × lever) and work of a linear spring; worked by hand',
    standing: 'theory',
    rows: [
      {
        quantity: '5 kg at 360.555 mm from the hinge, any attitude',
        unit: 'N.m',
        published: 17.6792,
        computed: () => {
          const inertia = [0, 0, 0, 0, 0, 0] as const;
          const hinge = treeFreedom('main', 2, [1], [0.4, 0, 0.3], UP, false, -1);
          const r = holdMargins(
            [hinge],
            [],
            [
              { mass: 7, com: [0, 0, 0.3], inertia },
              { mass: 5, com: [0.1, 0.2, 0.3], inertia },
            ],
            { heldBody: 0, handle: undefined, rollingUp: undefined },
          );
          return r.least?.opening ?? Number.NaN;
        },
        tolerance: { absolute: 1e-4, why: '5 × 9.80665 × √(0.3² + 0.2²), printed to 1e-4' },
        wrong: {
          what: 'lever measured from the origin',
          computed: () => 5 * 9.80665 * Math.sqrt(0.1 * 0.1 + 0.2 * 0.2),
        },
      },
      {
        quantity: 'peak force of a fall of 30 mm onto 15 mm of spring, in weights',
        unit: '1',
        published: 6,
        computed: () => edgeFactor(0.03, 0.015),
        tolerance: { absolute: 1e-12, why: '½·F·15 = W·45' },
      },
    ],
  },
  {
    id: 'package-cable',
    title: 'Cable across a hinge: the law of cosines has its maximum where both arms are in line',
    source: 'Plane trigonometry',
    standing: 'theory',
    rows: [
      {
        quantity: 'arms of 208.806 mm, half a turn in 180 steps',
        unit: 'mm',
        published: 2 * 208.806,
        computed: () =>
          1000 *
          followCable(
            {
              name: 'brake',
              points: [
                [-0.2, -0.06, 0],
                [0.2, -0.06, 0],
              ],
              bodies: [0, 1],
              slack: 0,
              minBend: 0.04,
            },
            swing(180),
          ).longest,
        tolerance: { absolute: 0.02, why: 'arms printed to 0.001 mm; the bound of a 1° step adds up to 0.016 mm' },
        wrong: { what: 'only the ends of the move looked at', computed: () => 400 },
      },
    ],
  },
];
