/** Drive: agreement with standards' sizes, closed forms, the road model's printed example and independent computations. */
import {
  assistAt,
  batteryRange,
  beltWheel,
  cadenceAt,
  centresFor,
  chainWheel,
  crankLoad,
  gearSet,
  loopAround,
  pulley,
  type RoadLoad,
  roadForce,
  roadPower,
  roadSpeed,
  rollOut,
  STANDARD_GRAVITY,
  slopeOf,
  stopFrom,
  tyreDiameter,
} from '#kernel';
import type { Case, Row } from '../case.ts';
import { tautRound } from './taut-polygons.ts';

const KMH = 1 / 3.6;
const DEG = Math.PI / 180;
const mm = (x: number): number => x * 1000;

const diameterOf = (width: number, rim: number): number => mm(tyreDiameter(rim / 1000, width / 1000));
const EXACT = { absolute: 1e-9, why: 'sums of whole millimetres' } as const;
const TENTH = { absolute: 0.05, why: 'printed to 0.1 mm' } as const;

const tyreRow = (width: number, rim: number, diameter: number): Row => ({
  quantity: `${width}-${rim}: outside diameter`,
  unit: 'mm',
  published: diameter,
  computed: () => diameterOf(width, rim),
  tolerance: EXACT,
});
const aroundRow = (width: number, rim: number, around: number): Row => ({
  quantity: `${width}-${rim}: circumference`,
  unit: 'mm',
  published: around,
  computed: () => rollOut(diameterOf(width, rim) / 2),
  tolerance: TENTH,
});

/** The appendix of Martin et al. 1998, inputs as printed there. */
const APPENDIX: RoadLoad = {
  mass: 90,
  grade: 0.003,
  rolling: 0.0032,
  dragArea: 0.2565,
  wheelDragArea: 0.0044,
  airDensity: 1.2234,
  wind: { speed: 2.94, from: 310 * DEG, heading: 340 * DEG },
  wheelInertia: 0.14,
  wheelRadius: 0.311,
  efficiency: 0.97698,
  gravity: 9.81,
};
const APPENDIX_SPEED = 471.8 / 56.42;
const APPENDIX_CHANGE = { from: 8.28, to: 8.45, seconds: 56.42 };
const appendix = (change: Partial<RoadLoad> = {}) =>
  roadPower({ ...APPENDIX, ...change }, APPENDIX_SPEED, APPENDIX_CHANGE);
const MARTIN =
  'J. C. Martin, D. L. Milliken, J. E. Cobb, K. L. McFadden, A. R. Coggan, J. Appl. Biomech. 14 (1998) 276–291';

/** The folder of the tables: 95 kg, 0.55 m², 1.2 kg/m³, efficiency 0.95; bearings left out and g = 9.81 m/s² there. */
const folder = (rolling: number, grade = 0): RoadLoad => ({
  mass: 95,
  rolling,
  grade,
  dragArea: 0.55,
  airDensity: 1.2,
  efficiency: 0.95,
  bearing: [0, 0],
  gravity: 9.81,
});
const WATT = { absolute: 0.0501, why: 'table to 0.1 W' } as const;
const FLAT: readonly (readonly [crr: number, ...watts: number[]])[] = [
  [0.004, 18.3, 41.5, 81.4, 143.6, 233.7],
  [0.006, 23.8, 49.7, 92.3, 157.2, 250.1],
  [0.008, 29.2, 57.8, 103.2, 170.8, 266.4],
];
const CLIMB: readonly (readonly [percent: number, ...watts: number[]])[] = [
  [3, 60.4, 82.3, 105.5, 172.2],
  [5, 93.1, 125.7, 159.9, 253.7],
  [8, 141.8, 190.7, 241.0, 375.5],
  [12, 206.2, 276.5, 348.3, 536.5],
];

const START = roadForce(folder(0.006, 0.08), 0);
const torque = (development: number): number => crankLoad(START, development, 0.17, 0.95).meanTorque;

const belt = (n1: number, n2: number, teeth: number, pitch = 11): number =>
  mm(centresFor(beltWheel(n1, pitch / 1000), beltWheel(n2, pitch / 1000), (teeth * pitch) / 1000).centres);
const beltRow = (n1: number, n2: number, teeth: number, published: number): Row => ({
  quantity: `${n1}/${n2}, ${teeth} teeth of 11 mm: centres`,
  unit: 'mm',
  published,
  computed: () => belt(n1, n2, teeth),
  tolerance: { absolute: 0.0051, why: 'computed to 0.01 mm' },
});
const taut46 = tautRound(46, 13, 303.45, 12.7);
const taut44 = tautRound(44, 13, 416.62, 12.7);

export const cases: readonly Case[] = [
  {
    id: 'drive.tyre-sizes',
    title: 'Outside diameters of tyres',
    source:
      'ISO 5775-1, outside diameter = rim + 2 × section height, height taken as the width; figures as tabulated by the trade',
    standing: 'published',
    rows: [
      {
        ...tyreRow(37, 590, 664),
        wrong: { what: 'one width in place of two', computed: () => 590 + 37 },
      },
      tyreRow(23, 622, 668),
    ],
  },
  {
    id: 'drive.tyre-table',
    title: 'Diameters and circumferences of small and large wheels',
    source: 'closed form, computed apart from the program',
    standing: 'recomputed',
    rows: [
      tyreRow(35, 349, 419),
      tyreRow(40, 406, 486),
      tyreRow(28, 451, 507),
      aroundRow(35, 349, 1316.3),
      aroundRow(32, 369, 1360.3),
      aroundRow(40, 406, 1526.8),
      aroundRow(50, 406, 1589.6),
      aroundRow(47, 305, 1253.5),
      aroundRow(28, 451, 1592.8),
      aroundRow(50, 507, 1906.9),
      aroundRow(28, 622, 2130.0),
      aroundRow(37, 622, 2186.5),
    ],
  },
  {
    id: 'drive.roll-out',
    title: 'Way per turn of a pressed tyre',
    source:
      'a measured roll-out of a 35-622 tyre, 2166 mm, beside its listed 2185 mm; common practice, no source to cite',
    standing: 'memory',
    rows: [
      {
        quantity: '35-622 with 1.5 % of sag',
        unit: 'mm',
        published: 2166,
        computed: () => mm(rollOut(0.346, 0.346 * 0.985)),
        tolerance: { relative: 0.003, why: 'one bicycle, load and pressure unknown: 0.4 to 2 % below πD are usual' },
        wrong: { what: 'rolling on the loaded radius', computed: () => mm(2 * Math.PI * 0.346 * 0.985) },
      },
    ],
  },
  {
    id: 'drive.development',
    title: 'Developments',
    source: 'closed form, computed apart from the program; hub ratios 0.733, 1, 1.364 from memory',
    standing: 'recomputed',
    rows: [
      {
        quantity: '44/13 on 35-349',
        unit: 'm',
        published: 4.455,
        computed: () =>
          gearSet({ rollOut: rollOut(0.2095), rings: [44], sprockets: [13], ratios: [1] }).gears[0]!.development,
        tolerance: { absolute: 5.1e-4, why: 'to 1 mm' },
        wrong: {
          what: 'sprocket over ring',
          computed: () =>
            gearSet({ rollOut: rollOut(0.2095), rings: [13], sprockets: [44], ratios: [1] }).gears[0]!.development,
        },
      },
      ...[4.477, 6.107, 8.33].map(
        (published, i): Row => ({
          quantity: `52/13 on 40-406, gear ${i + 1} of 3`,
          unit: 'm',
          published,
          computed: () =>
            gearSet({ rollOut: rollOut(0.243), rings: [52], sprockets: [13], ratios: [0.733, 1, 1.364] }).gears[i]!
              .development,
          tolerance: { absolute: 5.1e-4, why: 'to 1 mm' },
        }),
      ),
      {
        quantity: '50/13 on 35-349, gear 3 of 3',
        unit: 'm',
        published: 6.906,
        computed: () =>
          gearSet({ rollOut: rollOut(0.2095), rings: [50], sprockets: [13], ratios: [0.733, 1, 1.364] }).gears[2]!
            .development,
        tolerance: { absolute: 5.1e-4, why: 'to 1 mm' },
      },
    ],
  },
  {
    id: 'drive.road-power-example',
    title: 'Road power: the worked example',
    source: `${MARTIN}, appendix; inputs and the rounded result as a public program recreates them`,
    standing: 'published',
    rows: [
      {
        quantity: 'power',
        unit: 'W',
        published: 213,
        computed: () => appendix().pedals,
        tolerance: { absolute: 0.5, why: 'seen as a whole number' },
        wrong: {
          what: 'wind from behind',
          computed: () => appendix({ wind: { speed: 2.94, from: 130 * DEG, heading: 340 * DEG } }).pedals,
        },
      },
    ],
  },
  {
    id: 'drive.road-power-parts',
    title: 'Road power: parts of the worked example',
    source: `${MARTIN}, appendix, as remembered; parts computed apart from the program`,
    standing: 'memory',
    rows: (
      [
        ['air', 158.8, 0.06],
        ['rolling', 23.6, 0.06],
        ['bearing', 1.37, 0.006],
        ['grade', 22.1, 0.06],
        ['kinetic', 2.3, 0.006],
      ] as const
    ).map(
      ([part, published, absolute]): Row => ({
        quantity: part,
        unit: 'W',
        published,
        computed: () => appendix()[part],
        tolerance: { absolute, why: 'to the printed digit' },
        ...(part === 'kinetic'
          ? {
              wrong: {
                what: 'a negative change of speed',
                computed: () => roadPower(APPENDIX, APPENDIX_SPEED, { from: 8.45, to: 8.28, seconds: 56.42 }).kinetic,
              },
            }
          : {}),
      }),
    ),
  },
  {
    id: 'drive.road-power-yaw',
    title: 'Road power: yaw of the worked example',
    source: `${MARTIN}, appendix, as remembered`,
    standing: 'memory',
    rows: [
      {
        quantity: 'yaw, size',
        unit: 'deg',
        published: 7.67,
        computed: () => Math.abs(appendix().yaw) / DEG,
        tolerance: { absolute: 0.05, why: 'the paper rounds the wind’s parts on the way' },
      },
    ],
  },
  {
    id: 'drive.folder-flat',
    title: 'Power of a folding bicycle on the level',
    source: 'closed form of the road model without bearings, computed apart from the program',
    standing: 'recomputed',
    rows: FLAT.flatMap(([crr, ...watts]) =>
      watts.map(
        (published, i): Row => ({
          quantity: `Crr ${crr} at ${10 + 5 * i} km/h`,
          unit: 'W',
          published,
          computed: () => roadPower(folder(crr), (10 + 5 * i) * KMH).pedals,
          tolerance: WATT,
          ...(crr === 0.006 && i === 2
            ? {
                wrong: {
                  what: 'drive losses forgotten',
                  computed: () => roadPower(folder(crr), 20 * KMH).wheel,
                },
              }
            : {}),
        }),
      ),
    ),
  },
  {
    id: 'drive.folder-climb',
    title: 'Power of a folding bicycle uphill',
    source: 'closed form of the road model without bearings, computed apart from the program',
    standing: 'recomputed',
    rows: CLIMB.flatMap(([percent, ...watts]) =>
      watts.map((published, i): Row => {
        const kmh = [6, 8, 10, 15][i]!;
        return {
          quantity: `${percent} % at ${kmh} km/h`,
          unit: 'W',
          published,
          computed: () => roadPower(folder(0.006, percent / 100), kmh * KMH).pedals,
          tolerance: WATT,
          ...(percent === 12 && i === 0
            ? {
                wrong: {
                  what: 'sine of the slope taken as its tangent',
                  computed: () => {
                    const load = folder(0.006, 0.12);
                    const flat = roadPower({ ...load, grade: 0 }, 6 * KMH).wheel;
                    return (flat + load.mass * 9.81 * 0.12 * 6 * KMH) / 0.95;
                  },
                },
              }
            : {}),
        };
      }),
    ),
  },
  {
    id: 'drive.road-speed',
    title: 'Speed of a power: rolling alone and air alone',
    source: 'closed forms: v = P/(C m g) without air, v = (2P/ρA)^(1/3) without anything else; theory',
    standing: 'theory',
    rows: [
      {
        quantity: 'rolling alone, 100 W',
        unit: 'm/s',
        published: 100 / (0.006 * 95 * 9.81),
        computed: () => roadSpeed({ ...folder(0.006), dragArea: 0, efficiency: 1 }, 100).speed,
        tolerance: { relative: 1e-12, why: 'root to rounding' },
      },
      {
        quantity: 'air alone, 216 W at ρA/2 = 1 kg/m',
        unit: 'm/s',
        published: 6,
        computed: () => roadSpeed({ ...folder(0), dragArea: 2, airDensity: 1, efficiency: 1 }, 216).speed,
        tolerance: { relative: 1e-12, why: 'root to rounding' },
        wrong: { what: 'power taken as the force', computed: () => Math.sqrt(216) },
      },
    ],
  },
  {
    id: 'drive.crank-torque',
    title: 'Starting on 8 %',
    source: 'energy per turn, 95 kg, Crr 0.006, efficiency 0.95; computed apart from the program',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'force at the wheel',
        unit: 'N',
        published: 79.9,
        computed: () => START,
        tolerance: { absolute: 0.05, why: 'to 0.1 N' },
      },
      ...(
        [
          [1.8, 24.1],
          [2.2, 29.4],
          [2.8, 37.5],
          [3.5, 46.8],
          [5.0, 66.9],
          [6.0, 80.3],
        ] as const
      ).map(
        ([development, published]): Row => ({
          quantity: `mean crank torque at ${development} m`,
          unit: 'N·m',
          published,
          computed: () => torque(development),
          tolerance: { absolute: 0.051, why: 'to 0.1 N·m' },
          ...(development === 2.8
            ? { wrong: { what: 'efficiency as a gain', computed: () => torque(2.8) * 0.95 * 0.95 } }
            : {}),
        }),
      ),
      ...(
        [
          [1.8, 74],
          [2.2, 61],
          [2.8, 48],
          [3.5, 38],
          [5.0, 27],
          [6.0, 22],
        ] as const
      ).map(
        ([development, published]): Row => ({
          quantity: `cadence at 8 km/h, ${development} m`,
          unit: '1/min',
          published,
          computed: () => cadenceAt(development, 8 * KMH) * 60,
          tolerance: { absolute: 0.5, why: 'to whole turns' },
        }),
      ),
    ],
  },
  {
    id: 'drive.belt-equal',
    title: 'Belt round equal wheels',
    source:
      'equal wheels: centres = (length − circumference)/2, exact; two such distances as belt users publish them (43.45 and 72.4 cm)',
    standing: 'published',
    rows: [
      {
        quantity: '46/46, 125 teeth of 11 mm: centres',
        unit: 'mm',
        published: 434.5,
        computed: () => belt(46, 46, 125),
        tolerance: { absolute: 1e-6, why: 'exact' },
        wrong: { what: 'half a circumference forgotten', computed: () => (125 * 11 - 46 * 5.5) / 2 },
      },
      {
        quantity: '69/69, 250 teeth of 8 mm: centres',
        unit: 'mm',
        published: 724,
        computed: () => belt(69, 69, 250, 8),
        tolerance: { absolute: 1e-6, why: 'exact' },
      },
    ],
  },
  {
    id: 'drive.belt-unequal',
    title: 'Belt round unequal wheels',
    source: 'closed form of the open belt, solved apart from the program',
    standing: 'recomputed',
    rows: [
      {
        ...beltRow(55, 22, 115, 416.74),
        wrong: {
          what: 'wheels taken as equal to their mean',
          computed: () => belt(38.5, 38.5, 115),
        },
      },
      beltRow(55, 22, 113, 405.63),
      beltRow(46, 22, 111, 421.4),
      beltRow(50, 22, 108, 392.94),
    ],
  },
  {
    id: 'drive.belt-wrap',
    title: 'Wrap of an open belt',
    source:
      'R. G. Budynas, J. K. Nisbett: Shigley’s Mechanical Engineering Design, 9th ed. 2011, example 17-1 (6 and 18 in pulleys, 8 ft apart), from memory',
    standing: 'memory',
    rows: [
      {
        quantity: 'wrap of the small pulley',
        unit: 'rad',
        published: 3.0165,
        computed: () => loopAround(pulley(6 * 0.0254), pulley(18 * 0.0254), 96 * 0.0254).wrap[0],
        tolerance: { absolute: 5.1e-5, why: 'printed to four decimals' },
        wrong: {
          what: 'the large pulley’s wrap',
          computed: () => loopAround(pulley(6 * 0.0254), pulley(18 * 0.0254), 96 * 0.0254).wrap[1],
        },
      },
    ],
  },
  {
    id: 'drive.chain-taut',
    title: 'Chain round two polygons of pins',
    source:
      'perimeter of the convex hull of both wheels’ pins, mean over 576 positions; computed apart from the formula',
    standing: 'recomputed',
    rows: [
      {
        quantity: '46/13, 303.45 mm apart: length',
        unit: 'mm',
        published: taut46.mean,
        computed: () => mm(loopAround(chainWheel(46), chainWheel(13), 0.30345).length),
        tolerance: {
          absolute: 1e-3,
          why: 'second order in the tooth angle; one chain differs from the next by 0.1 mm',
        },
        wrong: {
          what: 'pins laid along their circle instead of tooth by tooth',
          computed: () => {
            const [a, b] = [chainWheel(46), chainWheel(13)];
            return mm(loopAround(pulley(2 * a.radius), pulley(2 * b.radius), 0.30345).length);
          },
        },
      },
      {
        quantity: '44/13, 416.62 mm apart: length',
        unit: 'mm',
        published: taut44.mean,
        computed: () => mm(loopAround(chainWheel(44), chainWheel(13), 0.41662).length),
        tolerance: { absolute: 1e-3, why: 'second order in the tooth angle' },
      },
    ],
  },
  {
    id: 'drive.chain-centres',
    title: 'Distance of the wheels for a number of links',
    source: 'open loop on circles of pN/π, solved apart from the program',
    standing: 'recomputed',
    rows: (
      [
        [50, 15, 96, 396.9],
        [44, 16, 90, 376.74],
      ] as const
    ).map(
      ([n1, n2, links, published]): Row => ({
        quantity: `${n1}/${n2}, ${links} links: centres`,
        unit: 'mm',
        published,
        computed: () => mm(centresFor(chainWheel(n1), chainWheel(n2), links * 0.0127).centres),
        tolerance: { absolute: 0.0051, why: 'to 0.01 mm; pins on their true circle change it by less' },
      }),
    ),
  },
  {
    id: 'drive.stopping',
    title: 'Way to a stop',
    source:
      'AASHTO: Guide for the development of bicycle facilities, 3rd ed. 1999, S = V²/(254 (f ± G)) for V in km/h, as quoted',
    standing: 'published',
    rows: [
      {
        quantity: '20 km/h, f = 0.25, level',
        unit: 'm',
        published: 400 / (254 * 0.25),
        computed: () => stopFrom(20 * KMH, 0.25 * STANDARD_GRAVITY, 0, 1e-9).distance,
        tolerance: { relative: 2e-3, why: '254 is rounded from 254.2' },
      },
      {
        quantity: '20 km/h, f = 0.25, 5 % down',
        unit: 'm',
        published: 400 / (254 * 0.2),
        computed: () => {
          const [cos, sin] = slopeOf(-0.05);
          return stopFrom(20 * KMH, STANDARD_GRAVITY * (0.25 * cos + sin), 0, 1e-9, STANDARD_GRAVITY * sin).distance;
        },
        tolerance: { relative: 3.5e-3, why: '254 is rounded; slope’s sine and cosine taken as G and 1' },
        wrong: {
          what: 'slope forgotten',
          computed: () => stopFrom(20 * KMH, 0.25 * STANDARD_GRAVITY, 0, 1e-9).distance,
        },
      },
    ],
  },
  {
    id: 'drive.range',
    title: 'Range and consumption with a motor',
    source: 'division, and the road model with half the power from a motor at 0.75; computed apart from the program',
    standing: 'recomputed',
    rows: [
      ...(
        [
          [250, 4, 62.5],
          [250, 6, 41.7],
          [250, 8, 31.3],
          [500, 6, 83],
        ] as const
      ).map(
        ([energy, use, published]): Row => ({
          quantity: `${energy} Wh at ${use} Wh/km, all of it used`,
          unit: 'km',
          published,
          computed: () => batteryRange(energy, use * 3.6, 1) / 1000,
          tolerance: { absolute: energy === 500 ? 0.5 : 0.051, why: 'to the printed digit' },
        }),
      ),
      {
        quantity: 'level, 20 km/h',
        unit: 'Wh/km',
        published: 3.08,
        computed: () => {
          const speed = 20 * KMH;
          const demand = roadPower(folder(0.006), speed).pedals;
          const motor = { power: 250, assistsTo: 25 * KMH, assist: 1, efficiency: 0.75 };
          return assistAt(demand, speed, motor).battery / speed / 3.6;
        },
        tolerance: { absolute: 0.0051, why: 'to 0.01 Wh/km' },
        wrong: {
          what: 'the motor’s losses forgotten',
          computed: () => {
            const speed = 20 * KMH;
            const motor = { power: 250, assistsTo: 25 * KMH, assist: 1, efficiency: 1 };
            return assistAt(roadPower(folder(0.006), speed).pedals, speed, motor).battery / speed / 3.6;
          },
        },
      },
    ],
  },
];
