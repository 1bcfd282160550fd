/** Mass: agreement with textbook solids, tabulated tubes, a published tear-down, measured wheels and the bench check. */
import {
  combine,
  comFromAxles,
  developedLength,
  discMass,
  hoopMass,
  inertiaAbout,
  memberMass,
  type RigidMass,
  spokedWheelInertia,
  tubeMass,
  type Vec3,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const STEEL = 7850;
const ALUMINIUM = 2700;
/** kg of one metre of tube, od and wall in mm. */
const perMetre = (od: number, wall: number, density: number): number =>
  tubeMass(od / 1000, wall / 1000, [0, 0, 0], [1, 0, 0], density).mass;

const FOUR_DECIMALS = { absolute: 5e-5, why: 'half a unit of the fourth decimal' } as const;
const THREE_DECIMALS = { absolute: 5e-4, why: 'half a unit of the third decimal' } as const;
const THEORY = { relative: 1e-12, why: 'closed form, rounding only' } as const;

const tubeRow = ([od, wall, density, published]: readonly [number, number, number, number], i: number): Row => ({
  quantity: `${od} × ${wall}, ${density} kg/m³`,
  unit: 'kg/m',
  published,
  computed: () => perMetre(od, wall, density),
  tolerance: FOUR_DECIMALS,
  ...(i === 0
    ? {
        wrong: {
          what: 'circumference of the outside times the wall, instead of the middle',
          computed: () => (density * Math.PI * od * wall) / 1e6,
        },
      }
    : {}),
});

/** The bend table's worked tube: three straights, bends of 40° and 30°, centre-line radius 100 mm. */
const BENT: readonly Vec3[] = [
  [0, 0, 0],
  [300, 0, 0],
  [453.2089, 128.5575, 0],
  [619.0624, 267.7251, 125.0],
];
const bent = developedLength(BENT, 100);

/** Hollow cylinder R, r, l along z. */
const [R, r, l] = [0.025, 0.022, 0.3];
const hollow = tubeMass(2 * R, R - r, [0, 0, -l / 2], [0, 0, l / 2], ALUMINIUM);
const hollowMass = ALUMINIUM * Math.PI * (R * R - r * r) * l;

/** Two balls on a rod of no mass: the parallel-axis theorem by hand. */
const dumbbell: readonly RigidMass[] = [
  { mass: 2, com: [0.3, 0, 0], inertia: [0.01, 0.01, 0.01, 0, 0, 0] },
  { mass: 1, com: [-0.6, 0, 0.3], inertia: [0.02, 0.02, 0.02, 0, 0, 0] },
];

/** Percent of 10.97 kg, and grams, as published. */
const TEAR_DOWN: readonly (readonly [string, number, number])[] = [
  ['rear wheel', 18.49, 2027],
  ['front wheel', 15.11, 1656],
  ['fork', 14.85, 1627],
  ['front triangle', 11.38, 1247],
  ['swingarm', 4.6, 505],
  ['right crank', 4.45, 488],
  ['pedals', 2.97, 326],
  ['chain', 2.48, 272],
  ['rear brake', 2.38, 261],
  ['seat post', 2.17, 238],
  ['shock', 2.17, 238],
  ['front brake', 1.99, 218],
  ['saddle', 1.94, 213],
  ['left crank', 1.86, 204],
  ['rear derailleur', 1.78, 196],
  ['handlebar', 1.6, 176],
  ['front derailleur', 1.35, 147],
  ['link', 1.11, 122],
];
const tearDown = combine(TEAR_DOWN.map(([, , g]) => ({ mass: g / 1000, com: [0, 0, 0], inertia: [0, 0, 0, 0, 0, 0] })));

/** Front wheels as measured: mass, outer radius, polar inertia. Rim sizes 622, 559, 622, 622 give the tyre's width. */
const WHEELS: readonly (readonly [string, number, number, number, number])[] = [
  ['city', 2.02, 0.3435, 0.149, 0.622],
  ['mountain', 1.5, 0.3302, 0.106, 0.559],
  ['road', 1.9, 0.3419, 0.147, 0.622],
  ['instrumented', 1.55, 0.335573, 0.0984, 0.622],
];
const frontWheel = (mass: number, radius: number, bsd: number): number =>
  spokedWheelInertia({
    mass,
    radius,
    tyreWidth: radius - bsd / 2,
    hubMass: 0.2,
    hubRadius: 0.02,
    hubWidth: 0.1,
    spokeMass: (0.22 * bsd) / 0.622,
  }).polar;
/** Hoops of published make-up: rim + tyre masses and their summed inertia, tyre size. */
const HOOPS: readonly (readonly [string, number, number, number, number])[] = [
  ['28-622', 0.85, 0.622, 0.028, 0.0845],
  ['40-406', 0.8, 0.406, 0.04, 0.0364],
  ['35-349', 0.64, 0.349, 0.035, 0.0215],
];

const BENCH = {
  wheelbase: 1,
  weight: 120,
  front: 54,
  frontRaised: 43.08,
  tilt: (20 * Math.PI) / 180,
  reading: 0.05 * 9.81,
};

export const cases: readonly Case[] = [
  {
    id: 'mass.tube-per-metre',
    title: 'Mass of straight tubes per metre',
    source: 'Closed form m′ = ρπ(D − w)w, evaluated by hand for common steel and aluminium tubes',
    standing: 'theory',
    rows: (
      [
        [28.6, 0.9, STEEL, 0.6148],
        [31.8, 0.9, STEEL, 0.6858],
        [34.9, 0.9, STEEL, 0.7546],
        [38.1, 0.9, STEEL, 0.8257],
        [16, 0.9, STEEL, 0.3351],
        [40, 2, ALUMINIUM, 0.6447],
        [44, 1.8, ALUMINIUM, 0.6443],
        [50, 2, ALUMINIUM, 0.8143],
        [60, 2.5, ALUMINIUM, 1.2193],
      ] as const
    ).map(tubeRow),
  },
  {
    id: 'mass.bent-tube',
    title: 'Developed length of a twice-bent tube',
    source:
      'Bend table worked by hand: corners (0,0,0)(300,0,0)(453.2089,128.5575,0)(619.0624,267.7251,125), radius 100 mm',
    standing: 'theory',
    rows: [
      ...[263.603, 136.808, 223.205].map(
        (published, i): Row => ({
          quantity: `straight ${i + 1}`,
          unit: 'mm',
          published,
          computed: () => bent.straights[i]!,
          tolerance: THREE_DECIMALS,
        }),
      ),
      ...[69.813, 52.36].map(
        (published, i): Row => ({
          quantity: `arc ${i + 1}`,
          unit: 'mm',
          published,
          computed: () => bent.bends[i]!.arc,
          tolerance: THREE_DECIMALS,
        }),
      ),
      {
        quantity: 'developed',
        unit: 'mm',
        published: 745.789,
        computed: () => bent.length,
        tolerance: THREE_DECIMALS,
        wrong: { what: 'length along the sharp corners', computed: () => developedLength(BENT, 0).length },
      },
      {
        quantity: 'mass over developed length, 28.6 × 0.9 steel',
        unit: 'kg/m',
        published: 0.6148,
        computed: () =>
          (memberMass({ shape: 'round', height: 0.0286, width: 0.0286, wall: 0.0009 }, BENT.map(toMetres), 0.1, STEEL)
            .mass /
            bent.length) *
          1000,
        tolerance: FOUR_DECIMALS,
      },
    ],
  },
  {
    id: 'mass.hollow-cylinder',
    title: 'Hollow cylinder',
    source:
      'Beer & Johnston, Vector Mechanics for Engineers: Statics, table of moments of inertia of homogeneous solids',
    standing: 'memory',
    rows: [
      {
        quantity: 'about the axis, m(R² + r²)/2',
        unit: 'kg m²',
        published: (hollowMass * (R * R + r * r)) / 2,
        computed: () => hollow.inertia[2],
        tolerance: THEORY,
        wrong: { what: 'thin shell mR²', computed: () => hollowMass * R * R },
      },
      {
        quantity: 'about a diameter, m(3(R² + r²) + l²)/12',
        unit: 'kg m²',
        published: (hollowMass * (3 * (R * R + r * r) + l * l)) / 12,
        computed: () => hollow.inertia[0],
        tolerance: THEORY,
      },
      {
        quantity: 'disc over hoop of equal mass, about the axle',
        unit: '-',
        published: 0.5,
        computed: () =>
          discMass(1, 0.3, 0.02, [0, 0, 0], [0, 1, 0]).inertia[1] /
          hoopMass(1, 0.3, 0.02, [0, 0, 0], [0, 1, 0]).inertia[1],
        tolerance: THEORY,
      },
    ],
  },
  {
    id: 'mass.parallel-axes',
    title: 'Two balls on a bar: parallel axes, products included',
    source:
      'Steiner’s theorem, worked by hand: 2 kg at (0.3, 0, 0), 1 kg at (−0.6, 0, 0.3), own inertias 0.01 and 0.02',
    standing: 'theory',
    rows: [
      { quantity: 'CoM z', unit: 'm', published: 0.1, computed: () => combine(dumbbell).com[2], tolerance: THEORY },
      {
        // μ = 2·1/3, d = (−0.9, 0, 0.3): Ixx = 0.03 + μ 0.09, Iyy = 0.03 + μ 0.90, Izz = 0.03 + μ 0.81, Ixz = −μ(−0.27).
        quantity: 'Ixx',
        unit: 'kg m²',
        published: 0.09,
        computed: () => combine(dumbbell).inertia[0],
        tolerance: THEORY,
      },
      {
        quantity: 'Iyy',
        unit: 'kg m²',
        published: 0.63,
        computed: () => combine(dumbbell).inertia[1],
        tolerance: THEORY,
      },
      {
        quantity: 'Izz',
        unit: 'kg m²',
        published: 0.57,
        computed: () => combine(dumbbell).inertia[2],
        tolerance: THEORY,
      },
      {
        quantity: 'Ixz',
        unit: 'kg m²',
        published: 0.18,
        computed: () => combine(dumbbell).inertia[4],
        tolerance: THEORY,
        wrong: { what: 'product of inertia without its sign, +∫xz dm', computed: () => -combine(dumbbell).inertia[4] },
      },
      {
        quantity: 'Iyy about the origin',
        unit: 'kg m²',
        published: 0.66,
        computed: () => inertiaAbout(combine(dumbbell), [0, 0, 0])[1],
        tolerance: THEORY,
      },
    ],
  },
  {
    id: 'mass.tear-down',
    title: 'A bicycle taken to pieces: percent against grams',
    source:
      'Published tear-down of a 26-inch full-suspension bicycle of 10.97 kg (web page; percentages and grams by part)',
    standing: 'published',
    rows: [
      ...TEAR_DOWN.map(
        ([part, percent, grams], i): Row => ({
          quantity: `${part}, ${grams} g of the whole`,
          unit: '%',
          published: percent,
          computed: () => grams / 109.7,
          tolerance: {
            relative: 0.005,
            absolute: 0.005,
            why: 'percent over grams implies totals of 10.92 to 10.99 kg (−0.5 to +0.2 % of 10.97); half a unit of the last digit',
          },
          ...(i === 0
            ? {
                wrong: { what: 'grams over the sum of the listed parts', computed: () => grams / (10 * tearDown.mass) },
              }
            : {}),
        }),
      ),
      {
        quantity: 'sum of the listed parts',
        unit: '%',
        published: 92.7,
        computed: () => tearDown.mass / 0.1097,
        tolerance: { relative: 0.005, why: 'the same scatter of the implied total' },
      },
    ],
  },
  {
    id: 'mass.front-wheels',
    title: 'Polar inertia of measured front wheels from their mass and radius alone',
    source:
      'Moore, Hubbard, Peterson, Kooijman & Schwab 2010, Bicycle and Motorcycle Dynamics, table of measured parameters',
    standing: 'published',
    rows: WHEELS.map(
      ([name, mass, radius, published, bsd], i): Row => ({
        quantity: name,
        unit: 'kg m²',
        published,
        computed: () => frontWheel(mass, radius, bsd),
        tolerance: {
          absolute: 0.025,
          why: 'hub masses are not published: 0.45 kg (dynamo, instruments) instead of our 0.2 kg lowers I by 0.25 kg × (0.317 m)²',
        },
        ...(i === 0
          ? { wrong: { what: 'all mass in a hoop at the outer radius', computed: () => mass * radius * radius } }
          : {}),
      }),
    ),
  },
  {
    id: 'mass.hoop',
    title: 'Rim and tyre as one hoop against two',
    source:
      'Worked by hand: rim and tyre as two hoops, masses 0.45 + 0.40, 0.35 + 0.45, 0.28 + 0.36 kg (default, from memory)',
    standing: 'recomputed',
    rows: HOOPS.map(
      ([name, mass, bsd, width, published], i): Row => ({
        quantity: name,
        unit: 'kg m²',
        published,
        computed: () =>
          spokedWheelInertia({
            mass,
            radius: bsd / 2 + width,
            tyreWidth: width,
            hubMass: 0,
            hubRadius: 0,
            hubWidth: 0,
            spokeMass: 0,
          }).polar,
        tolerance: {
          relative: 0.02,
          why: 'one hoop halfway stands for two of unequal mass: 1 % of the radius at most',
        },
        ...(i === 1
          ? {
              wrong: {
                what: 'hoop at 0.93 of the outer radius, the rule for narrow tyres on large rims',
                computed: () => mass * (0.93 * 0.243) * (0.93 * 0.243),
              },
            }
          : {}),
      }),
    ),
  },
  {
    id: 'mass.bench',
    title: 'Centre of mass from two weighings',
    source: 'Moments about the rear support, worked by hand: L 1000 mm, W 120 N, R_f 54 N; raised 20°, R_f′ 43.08 N',
    standing: 'theory',
    rows: [
      { quantity: 'x', unit: 'mm', published: 450, computed: () => comFromAxles(BENCH).x * 1000, tolerance: THEORY },
      {
        quantity: 'height above the axles',
        unit: 'mm',
        published: 250,
        computed: () => comFromAxles(BENCH).height * 1000,
        tolerance: { absolute: 0.15, why: 'R_f′ is printed to 0.01 N: 0.005 N is 0.11 mm' },
        wrong: { what: 'sine for tangent', computed: () => (10.92 * 1000) / (120 * Math.sin(BENCH.tilt)) },
      },
      {
        quantity: '1 σ of the height, scales of 0.05 kg',
        unit: 'mm',
        published: 16,
        computed: () => comFromAxles(BENCH).heightSigma * 1000,
        tolerance: { absolute: 0.5, why: 'printed to a millimetre' },
      },
    ],
  },
];

function toMetres(p: Vec3): Vec3 {
  return [p[0] / 1000, p[1] / 1000, p[2] / 1000];
}
