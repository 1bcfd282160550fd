/** Power, climbing, braking, range: the road model's printed example, handbook formulas, independent computations. */
import {
  assistAt,
  batteryRange,
  cadenceAt,
  crankLoad,
  type RoadLoad,
  roadForce,
  roadPower,
  roadSpeed,
  STANDARD_GRAVITY,
  slopeOf,
  stopFrom,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const KMH = 1 / 3.6;
const DEG = Math.PI / 180;
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

export const roadCases: readonly Case[] = [
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
