/** Steering: agreement with published figures. The lists are long because every printed entry is checked. */
import {
  accelerationRows,
  capsizeSpeed,
  characteristic,
  eigenvalues,
  headGeometry,
  inverseMass,
  type Matrix2,
  mergeSpeed,
  pitchOver,
  type RigidMass,
  type SteadyTurn,
  steadyTurn,
  trailForIntercept,
  type WhippleBicycle,
  type WhippleSystem,
  type WhippleTerms,
  weaveSpeed,
  wheelLoads,
  whipple,
} from '#kernel';
import type { Case, Row } from '../case.ts';
import { BENCHMARK, BENCHMARK_PRINTED, bicycle, MEASURED } from './bicycles.ts';

const MPRS07 = 'Meijaard, Papadopoulos, Ruina & Schwab 2007, Proc. R. Soc. A 463:1955–1982';
const MOORE = 'J. K. Moore, Human Control of a Bicycle, PhD thesis, University of California Davis 2012';
const DEGREE = Math.PI / 180;

const system = whipple(BENCHMARK);
const p = characteristic(system);

/** The benchmark's inertia with the sign of the rear body's Ixz turned over: the usual slip between z up and z down. */
const flippedIxz: WhippleBicycle = bicycle({ ...BENCHMARK_PRINTED, B: [85, 0.3, -0.9, 9.2, -2.4, 2.8] });
/** Wheels that do not spin: gyroscopic terms forgotten. */
const noGyro: WhippleBicycle = bicycle({ ...BENCHMARK_PRINTED, R: [0.3, 2, 0.0603, 0], F: [0.35, 3, 0.1405, 0] });

const PRINTED = { relative: 1e-10, absolute: 1e-13, why: 'asked: 1e-10; printed to 14 decimals' } as const;

const matrixRows = (name: 'M' | 'C1' | 'K0' | 'K2', unit: string, printed: Matrix2): Row[] =>
  printed.map((published, i) => ({
    quantity: `${name}${Math.floor(i / 2) + 1}${(i % 2) + 1}`,
    unit,
    published,
    computed: () => system[name][i]!,
    tolerance: PRINTED,
    ...(name === 'M' && i === 1
      ? { wrong: { what: 'sign of the rear body’s Ixz turned over', computed: () => whipple(flippedIxz).M[1] } }
      : {}),
    ...(name === 'K2' && i === 1
      ? { wrong: { what: 'gyroscopic terms of the wheels forgotten', computed: () => whipple(noGyro).K2[1] } }
      : {}),
  }));

const TERMS: Readonly<Partial<Record<keyof WhippleTerms, number>>> = {
  mT: 94,
  xT: 0.342127659574468,
  zT: -0.861170212765957,
  Txz: 28.93344,
  Tzz: 17.01908,
  xA: 0.951428571428571,
  zA: -0.55,
  u: 0.028659521628084,
  mu: 0.0745926679447179,
  SA: 2.59951685249872,
  SR: 0.4,
  SF: 0.8,
};

type Branch = 'weaveRe' | 'weaveIm' | 'capsize' | 'castering';
/** The eigenvalues by the paper's names: the pair, and the larger and smaller of the real ones. */
function branch(s: WhippleSystem, speed: number, which: Branch): number {
  const out = new Float64Array(8);
  eigenvalues(characteristic(s), speed, out);
  const i = [0, 2, 4, 6].find((k) => out[k + 1]! > 0);
  if (i === undefined) return NaN;
  if (which === 'weaveRe') return out[i]!;
  if (which === 'weaveIm') return out[i + 1]!;
  const real = [0, 2, 4, 6].filter((k) => out[k + 1] === 0).map((k) => out[k]!);
  return which === 'capsize' ? real[0]! : real[1]!;
}

const TABLE_2: readonly (readonly [v: number, weaveRe: number, weaveIm: number, capsize: number, castering: number])[] =
  [
    [1, 3.5269617099007, 0.8077402751993, -3.13423125066578, -7.11008014637442],
    [2, 2.68234517512745, 1.68066296590675, -3.07158645641514, -8.67387984831735],
    [3, 1.70675605663975, 2.31582447384325, -2.63366137253667, -10.3510146724592],
    [4, 0.41325331521125, 3.07910818603206, -1.42944427361326, -12.15861426576447],
    [5, -0.77534188219585, 4.46486771378823, -0.32286642900409, -14.07838969279822],
    [6, -1.52644486584142, 5.87673060598709, -0.0040669007697, -16.08537123098026],
    [7, -2.13875644258362, 7.19525913329805, 0.10268170574766, -18.15788466125262],
    [8, -2.69348683581097, 8.46037971396931, 0.14327879765713, -20.27940894394569],
    [9, -3.21675402252485, 9.69377351531791, 0.15790184030917, -22.43788559040858],
    [10, -3.72016840437287, 10.90681139476287, 0.16105338653172, -24.62459635017404],
  ];

const eigenvalueRows: Row[] = TABLE_2.flatMap(([v, ...printed]) =>
  (['weaveRe', 'weaveIm', 'capsize', 'castering'] as const).map((which, i) => ({
    quantity: `${which} at ${v} m/s`,
    unit: '1/s',
    published: printed[i]!,
    computed: () => branch(system, v, which),
    tolerance: PRINTED,
    ...(v === 5 && which === 'weaveRe'
      ? {
          wrong: {
            what: 'sign of the rear body’s Ixz turned over',
            computed: () => branch(whipple(flippedIxz), v, which),
          },
        }
      : {}),
    ...(v === 5 && which === 'capsize'
      ? {
          wrong: {
            what: 'gyroscopic terms of the wheels forgotten',
            computed: () => branch(whipple(noGyro), v, which),
          },
        }
      : {}),
  })),
);

const standstill = (): Float64Array => {
  const out = new Float64Array(8);
  eigenvalues(p, 0, out);
  return out;
};

const FOUR_DECIMALS = { absolute: 6e-5, why: 'compared with four decimals' } as const;

const STEADY: readonly (readonly [v: number, leanPerSteer: number, torquePerSteer: number])[] = [
  [2, 0.35371, -6.283116],
  [4, 1.511178, -3.948234],
  [5, 2.37928, -2.197072],
  [6, 3.440292, -0.056763],
  [8, 6.141052, 5.391295],
  [10, 9.613457, 12.395942],
];
/** Full nonlinear equilibrium at δ = 0.02 rad: lean (rad), torque (N·m), radius (m). */
const NONLINEAR: readonly (readonly [v: number, lean: number, torque: number, radius: number])[] = [
  [2, 0.00707478, -0.12548593, 53.61631],
  [4, 0.03021651, -0.07848716, 53.5931],
  [5, 0.04756978, -0.04335516, 53.55686],
  [8, 0.12287064, 0.10772462, 53.21304],
];
const turn = (v: number): SteadyTurn => steadyTurn(system, v, 10);

const VARIATIONS: readonly { name: string; bicycle: WhippleBicycle; weave: number; capsize: number }[] = [
  ...(
    [
      [0.04, 3.75288, 4.76718],
      [0.06, 4.04486, 5.42425],
      [0.1, 4.50708, 6.58418],
    ] as const
  ).map(([c, weave, capsize]) => ({
    name: `trail ${c} m`,
    bicycle: bicycle({ ...BENCHMARK_PRINTED, c }),
    weave,
    capsize,
  })),
  ...(
    [
      [0.14, 5.5079, 8.79456],
      [0.21, 4.77433, 7.0287],
      [0.35, 3.93897, 5.3554],
    ] as const
  ).map(([Iyy, weave, capsize]) => ({
    name: `front wheel Iyy ${Iyy} kg·m²`,
    // A trend study: 0.35 kg·m² exceeds 2·Ixx, which no real wheel can have; the equations do not mind.
    bicycle: { ...BENCHMARK, frontWheel: { ...BENCHMARK.frontWheel, Iyy } },
    weave,
    capsize,
  })),
  ...(
    [
      [75, 4.10618, 5.80083],
      [69, 4.52637, 6.25168],
    ] as const
  ).map(([headAngle, weave, capsize]) => ({
    name: `head angle ${headAngle}°`,
    bicycle: { ...BENCHMARK, headAngle: headAngle * DEGREE },
    weave,
    capsize,
  })),
];

const TRAILS: readonly (readonly [name: string, f: number, degrees: number, r: number, trail: number])[] = [
  ['city bicycle, sold as stable', 0.07, 67.1, 0.3435, 0.069],
  ['city bicycle, sold as nervous', 0.045, 73.1, 0.34, 0.056],
  ['city bicycle with suspension fork', 0.045, 69, 0.3426, 0.083],
  ['mountain bicycle', 0.038, 71.1, 0.3301, 0.072],
  ['track bicycle', 0.032, 74.2, 0.3339, 0.062],
  ['road bicycle', 0.057, 72.7, 0.3419, 0.047],
  ['road bicycle, fork reversed', -0.057, 70.6, 0.3419, 0.18],
  ['child’s bicycle, 12 inch', 0, 73.21, 0.1472, 0.0445],
];

const benchmarkTotal: RigidMass = {
  mass: system.terms.mT,
  com: [system.terms.xT, 0, -system.terms.zT],
  inertia: [NaN, NaN, NaN, NaN, NaN, NaN],
};
const benchmarkLoad = { total: benchmarkTotal, rearX: 0, frontX: 1.02, gravity: 9.81 };
/** A rider of whom only (w − x)/h is known: 0.7 g on the level. */
const level07 = {
  total: { mass: 80, com: [0.3, 0, 1] as const, inertia: [NaN, NaN, NaN, NaN, NaN, NaN] as const },
  rearX: 0,
  frontX: 1,
  gravity: 1,
};

export const cases: readonly Case[] = [
  {
    id: 'steer.matrices',
    title: 'Benchmark bicycle: every entry of M, C1, K0 and K2',
    source: `${MPRS07}, eq. 5.4; parameters of Table 1`,
    standing: 'published',
    rows: [
      ...matrixRows('M', 'kg·m²', [80.81722, 2.31941332208709, 2.31941332208709, 0.29784188199686]),
      ...matrixRows('K0', 'kg·m', [-80.95, -2.59951685249872, -2.59951685249872, -0.80329488458618]),
      ...matrixRows('K2', 'kg', [0, 76.59734589573222, 0, 2.65431523794604]),
      ...matrixRows('C1', 'kg·m', [0, 33.86641391492494, -0.85035641456978, 1.6854039739756]),
    ],
  },
  {
    id: 'steer.terms',
    title: 'Benchmark bicycle: intermediate results of Appendix A',
    source: `${MPRS07}, Appendix A, evaluated in exact arithmetic`,
    standing: 'recomputed',
    rows: Object.entries(TERMS).map(([term, published]) => ({
      quantity: term,
      unit: 'SI',
      published,
      computed: () => system.terms[term as keyof WhippleTerms],
      tolerance: { relative: 1e-13, absolute: 1e-15, why: '15 digits given' },
    })),
  },
  {
    id: 'steer.eigenvalues',
    title: 'Benchmark bicycle: the eigenvalue table',
    source: `${MPRS07}, Table 2 (castering at 4–6 m/s: last two of 16 digits from memory). At 7 m/s the table prints castering −18.15788466125262; 40-digit arithmetic gives −18.15788466125202: a misprint in the 13th digit, far inside the tolerance`,
    standing: 'published',
    rows: [
      ...[5.53094371765393, 3.13164324790656, -3.13164324790656, -5.53094371765393].map((published, i) => ({
        quantity: `real eigenvalue ${i + 1} at 0 m/s`,
        unit: '1/s',
        published,
        computed: () => standstill()[2 * i]!,
        tolerance: PRINTED,
      })),
      ...eigenvalueRows,
      {
        quantity: 'castering at 7 m/s without the misprint',
        unit: '1/s',
        published: -18.15788466125202,
        computed: () => branch(system, 7, 'castering'),
        tolerance: {
          absolute: 2e-13,
          why: 'tells the exact value from the printed one, 6e-13 away',
        },
        wrong: { what: 'the printed value', computed: () => -18.15788466125262 },
      },
    ],
  },
  {
    id: 'steer.critical-speeds',
    title: 'Benchmark bicycle: speeds at which stability changes',
    source: `${MPRS07}, section 6, digits as transcribed from its Table 2`,
    standing: 'published',
    rows: [
      {
        quantity: 'weave speed',
        unit: 'm/s',
        published: 4.29238253634111,
        computed: () => weaveSpeed(p) ?? NaN,
        tolerance: PRINTED,
        wrong: {
          what: 'gyroscopic terms of the wheels forgotten',
          computed: () => weaveSpeed(characteristic(whipple(noGyro))) ?? NaN,
        },
      },
      {
        quantity: 'capsize speed',
        unit: 'm/s',
        published: 6.02426201538837,
        computed: () => capsizeSpeed(p) ?? NaN,
        tolerance: PRINTED,
      },
      {
        quantity: 'speed at which the real eigenvalues merge',
        unit: 'm/s',
        published: 0.68428307889246,
        computed: () => mergeSpeed(p, 4).speed,
        tolerance: PRINTED,
      },
      {
        quantity: 'double eigenvalue there (40-digit arithmetic)',
        unit: '1/s',
        published: 3.7829040512932,
        computed: () => mergeSpeed(p, 4).eigenvalue,
        tolerance: PRINTED,
      },
    ],
  },
  {
    id: 'steer.inverse-mass',
    title: 'Benchmark bicycle at 5 m/s: M⁻¹ and the rows of the state matrix',
    source:
      'Moore, Hubbard & Hess 2016, An Optimal Handling Bicycle, Bicycle and Motorcycle Dynamics 2016, computed output',
    standing: 'published',
    rows: [
      ...[0.01593498, -0.12409203, -0.12409203, 4.32384018].map((published, i) => ({
        quantity: `M⁻¹ entry ${i + 1}`,
        unit: '1/(kg·m²)',
        published,
        computed: () => inverseMass(system)[i]!,
        tolerance: { absolute: 6e-9, why: 'printed to 8 decimals' },
      })),
      ...[9.48977445, -22.85146663, -0.52761225, -1.65257699, 11.71947687, -18.38412373, 18.38402617, -15.42432764].map(
        (published, i) => ({
          quantity: `state matrix, row ${i < 4 ? 'φ̈' : 'δ̈'}, column ${(i % 4) + 1}`,
          unit: 'SI',
          published,
          computed: () => accelerationRows(system, 5)[i]!,
          tolerance: { absolute: 6e-9, why: 'printed to 8 decimals' },
        }),
      ),
    ],
  },
  {
    id: 'steer.state-matrix',
    title: 'Benchmark bicycle: state matrix by an independent derivation (Kane’s method)',
    source: 'SymPy project, test suite of physics.mechanics, bicycle linearised by Kane’s method; open source',
    standing: 'published',
    rows: [1, 5, 10].flatMap((v) =>
      [
        9.48977444677355,
        -0.891197738059089 * v * v - 0.571523173729245,
        -0.105522449805691 * v,
        -0.330515398992311 * v,
        11.7194768719633,
        -1.97171508499972 * v * v + 30.9087533932407,
        3.67680523332152 * v,
        -3.08486552743311 * v,
      ].map((published, i) => ({
        quantity: `row ${i < 4 ? 'φ̈' : 'δ̈'}, column ${(i % 4) + 1}, at ${v} m/s`,
        unit: 'SI',
        published,
        computed: () => accelerationRows(system, v)[i]!,
        tolerance: { relative: 1e-11, absolute: 1e-11, why: 'printed to 15 digits; two terms may cancel' },
      })),
    ),
  },
  {
    id: 'steer.measured',
    title: 'Five measured bicycles without rider: weave and capsize speed',
    source: `${MOORE}, Tables 5.9–5.12 (parameters); speeds recomputed from them by an independent program`,
    standing: 'recomputed',
    rows: MEASURED.flatMap((m) => [
      {
        quantity: `weave speed, ${m.name}`,
        unit: 'm/s',
        published: m.weave,
        computed: () => weaveSpeed(characteristic(whipple(m.bicycle))) ?? NaN,
        tolerance: FOUR_DECIMALS,
      },
      {
        quantity: `capsize speed, ${m.name}`,
        unit: 'm/s',
        published: m.capsize,
        computed: () => capsizeSpeed(characteristic(whipple(m.bicycle))) ?? NaN,
        tolerance: FOUR_DECIMALS,
      },
    ]),
  },
  {
    id: 'steer.variations',
    title: 'Benchmark bicycle with one parameter changed',
    source: `${MPRS07}, Appendix A, evaluated by an independent program; trends as Franke, Suhr & Rieß 1990 and Åström et al. 2005 report`,
    standing: 'recomputed',
    rows: VARIATIONS.flatMap((m) => [
      {
        quantity: `weave speed, ${m.name}`,
        unit: 'm/s',
        published: m.weave,
        computed: () => weaveSpeed(characteristic(whipple(m.bicycle))) ?? NaN,
        tolerance: { absolute: 6e-6, why: 'compared with five decimals' },
      },
      {
        quantity: `capsize speed, ${m.name}`,
        unit: 'm/s',
        published: m.capsize,
        computed: () => capsizeSpeed(characteristic(whipple(m.bicycle))) ?? NaN,
        tolerance: { absolute: 6e-6, why: 'compared with five decimals' },
      },
    ]),
  },
  {
    id: 'steer.steady-turn',
    title: 'Benchmark bicycle: steady turns, linear closed form',
    source: `${MPRS07}, eq. 5.3, evaluated by an independent program`,
    standing: 'recomputed',
    rows: STEADY.flatMap(([v, lean, torque]) => [
      {
        quantity: `lean per steer at ${v} m/s`,
        unit: '1',
        published: lean,
        computed: () => turn(v).leanPerSteer,
        tolerance: { absolute: 6e-7, why: 'compared with six decimals' },
      },
      {
        quantity: `steer torque per steer at ${v} m/s`,
        unit: 'N·m/rad',
        published: torque,
        computed: () => turn(v).torquePerSteer,
        tolerance: { absolute: 6e-7, why: 'compared with six decimals' },
        ...(v === 8
          ? {
              wrong: {
                what: 'gyroscopic terms of the wheels forgotten',
                computed: () => steadyTurn(whipple(noGyro), v, 10).torquePerSteer,
              },
            }
          : {}),
      },
    ]),
  },
  {
    id: 'steer.steady-turn-nonlinear',
    title: 'Benchmark bicycle: steady turns against the full nonlinear model, 0.02 rad of steer',
    source:
      'Equilibria of a nonlinear model that reproduces Basu-Mandal, Chatterjee & Papadopoulos 2007, Proc. R. Soc. A 463:1983–2003, Table 1, to 12 digits',
    standing: 'recomputed',
    rows: NONLINEAR.flatMap(([v, lean, torque, radius]) => {
      const steer = 0.02;
      const at = () => steadyTurn(system, v, system.w / (steer * Math.cos(system.lambda)));
      const why = 'linear figures against nonlinear: second order in the lean, 0.12 rad at most';
      return [
        {
          quantity: `lean at ${v} m/s`,
          unit: 'rad',
          published: lean,
          computed: () => at().lean,
          tolerance: { relative: 1e-3, why },
        },
        {
          quantity: `steer torque at ${v} m/s`,
          unit: 'N·m',
          published: torque,
          computed: () => at().torque,
          tolerance: { relative: 2e-2, why },
        },
        {
          quantity: `turn radius at ${v} m/s`,
          unit: 'm',
          published: radius,
          computed: () => system.w / (at().steer * Math.cos(system.lambda)),
          tolerance: { relative: 1e-2, why },
        },
      ];
    }),
  },
  {
    id: 'steer.trail',
    title: 'Trail of measured bicycles from offset, head angle and roll-out',
    source: `${MOORE}, measured tables of chapter 5`,
    standing: 'published',
    rows: [
      ...TRAILS.map(([name, f, degrees, r, published]) => ({
        quantity: `trail, ${name}`,
        unit: 'm',
        published,
        computed: () => headGeometry(r, degrees * DEGREE, f).trail,
        tolerance: { absolute: 0.002, why: 'printed standard deviation ±2 mm; angle printed to 0.1°' },
        ...(f > 0.05
          ? { wrong: { what: 'offset on the wrong side', computed: () => headGeometry(r, degrees * DEGREE, -f).trail } }
          : {}),
      })),
      {
        quantity: 'mechanical trail, benchmark',
        unit: 'm',
        published: 0.076085,
        computed: () => headGeometry(0.35, 72 * DEGREE, 0.03207142672761931).mechanicalTrail,
        tolerance: { absolute: 6e-7, why: 'compared with six decimals' },
      },
      {
        quantity: 'flop factor, benchmark',
        unit: 'm',
        published: 0.023511,
        computed: () => headGeometry(0.35, 72 * DEGREE, 0.03207142672761931).flop,
        tolerance: { absolute: 6e-7, why: 'compared with six decimals' },
      },
      {
        quantity: 'drop of the front at 0.1 rad of steer, benchmark, nonlinear model',
        unit: 'm',
        published: 1.16982e-4,
        computed: () => 0.5 * headGeometry(0.35, 72 * DEGREE, 0.03207142672761931).flop * 0.01,
        tolerance: { relative: 0.006, why: 'the factor is the small-angle limit; 0.5 % at 0.1 rad' },
      },
    ],
  },
  {
    id: 'steer.intercept',
    title: 'Trail that the intercept recommendation allows small wheels at 72°',
    source: 'ISO 4210-2, Annex A (informative), text as in GOST R ISO 4210-2-2023: 15–60 % of the wheel radius',
    standing: 'published',
    rows: (
      [
        [0.2, 0.0097, 0.039],
        [0.24, 0.0117, 0.0468],
      ] as const
    ).flatMap(([r, least, most]) => [
      {
        quantity: `least trail, radius ${r} m`,
        unit: 'm',
        published: least,
        computed: () => trailForIntercept(r, 72 * DEGREE)[0],
        tolerance: { absolute: 6e-5, why: 'compared with 0.1 mm' },
      },
      {
        quantity: `most trail, radius ${r} m`,
        unit: 'm',
        published: most,
        computed: () => trailForIntercept(r, 72 * DEGREE)[1],
        tolerance: { absolute: 6e-5, why: 'compared with 0.1 mm' },
      },
    ]),
  },
  {
    id: 'steer.pitch-over-published',
    title: 'Pitch-over on a descent',
    source: 'C. Riel 2005, worked example: 0.7 g on the level becomes 0.6 g on −10 %',
    standing: 'published',
    rows: [
      {
        quantity: 'deceleration on −10 %',
        unit: 'g',
        published: 0.6,
        computed: () => pitchOver(level07, -0.1),
        tolerance: { absolute: 0.005, why: 'printed to one or two digits, small-slope form' },
        wrong: { what: 'sign of the slope turned over', computed: () => pitchOver(level07, 0.1) },
      },
      {
        quantity: 'deceleration on the level',
        unit: 'g',
        published: 0.7,
        computed: () => pitchOver(level07, 0),
        tolerance: { absolute: 1e-12, why: 'identity' },
      },
    ],
  },
  {
    id: 'steer.wheel-loads',
    title: 'Benchmark bicycle: wheel loads and pitch-over',
    source: `Statics on the parameters of ${MPRS07}, Table 1, evaluated by hand`,
    standing: 'recomputed',
    rows: [
      ...(
        [
          ['pitch-over', 'm/s²', 7.722, () => pitchOver(benchmarkLoad), 6e-4],
          ['static front share', '1', 0.3354, () => wheelLoads(benchmarkLoad).frontShare, 6e-5],
          ['transfer at 0.3 g', 'N', 233.565, () => wheelLoads(benchmarkLoad, 0, 0.3 * 9.81).transfer, 6e-4],
          ['front at 0.3 g', 'N', 542.868, () => wheelLoads(benchmarkLoad, 0, 0.3 * 9.81).front, 6e-4],
          ['rear at 0.3 g', 'N', 379.272, () => wheelLoads(benchmarkLoad, 0, 0.3 * 9.81).rear, 6e-4],
          ['transfer at 0.5 g', 'N', 389.274, () => wheelLoads(benchmarkLoad, 0, 0.5 * 9.81).transfer, 6e-4],
          ['front at 0.5 g', 'N', 698.578, () => wheelLoads(benchmarkLoad, 0, 0.5 * 9.81).front, 6e-4],
          ['rear at 0.5 g', 'N', 223.562, () => wheelLoads(benchmarkLoad, 0, 0.5 * 9.81).rear, 6e-4],
        ] as const
      ).map(([quantity, unit, published, computed, absolute]) => ({
        quantity,
        unit,
        published,
        computed,
        tolerance: { absolute, why: 'half a unit of the last digit compared' },
      })),
    ],
  },
];
