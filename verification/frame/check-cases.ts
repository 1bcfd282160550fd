/** Sections, local buckling, dents, lugs, pins, threads, wall flexibility, play, dummy fork. */
import {
  boltedJoint,
  dentForceEllinasWalker,
  dentForceWierzbickiSuh,
  dummyForkRatio,
  dummyForkStiffness,
  freeAngle,
  localBuckling,
  lugByHand,
  metricThread,
  openingMoment,
  PROOF_STRESS,
  pinStress,
  preloadFromTorque,
  sectionSpread,
  shearCoefficient,
  type TubeSize,
  tighteningArm,
  torsionConstant,
  tubeProperties,
  tubeWallFlex,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const round = (diameter: number, wall: number): TubeSize => ({
  shape: 'round',
  height: diameter,
  width: diameter,
  wall,
});
const digits = (value: number, decimals: number): Row['tolerance'] => ({
  absolute: 0.51 * 10 ** -decimals,
  why: `compared to ${decimals === 0 ? 'whole units' : `${decimals} decimal${decimals > 1 ? 's' : ''}`} of ${value}`,
});

/** OD, wall, area, second moment, modulus; mm. */
const STOCK: readonly (readonly [number, number, number, number, number])[] = [
  [25, 2, 144.5, 9628, 770],
  [28.6, 0.9, 78.3, 7520, 526],
  [31.8, 0.9, 87.4, 10_436, 656],
  [34.9, 1.5, 157.4, 21_992, 1260],
  [38.1, 1.2, 139.1, 23_702, 1244],
  [40, 2, 238.8, 43_216, 2161],
  [44.5, 1.6, 215.6, 49_677, 2233],
  [50, 2, 301.6, 87_010, 3480],
  [50, 3, 443.0, 122_812, 4912],
  [60, 2, 364.4, 153_423, 5114],
  [60, 3, 537.2, 218_780, 7293],
  [70, 2.5, 530.1, 302_348, 8639],
  [76.2, 2.5, 578.8, 393_461, 10_327],
];

const AL = { E: 70_000, nu: 0.3, yield: 240 };
const STEEL = { E: 205_000, nu: 0.3, yield: 500 };
const big = (): ReturnType<typeof localBuckling> => localBuckling(round(60, 2), AL);
const thin = (): ReturnType<typeof localBuckling> => localBuckling(round(44.5, 0.6), STEEL);
/** Outside radius in place of the mean one: the usual slip. */
const outsideRadius = (): number => (70_000 * 2) / (30 * Math.sqrt(3 * (1 - 0.09)));

const WALL = [
  [60, 2.5, 43.0, 31.2, 9.73],
  [60, 3, 63.6, 42.8, 14.5],
] as const;

const BOLTS = [
  [5, 0.8, 5, 0.12, 6040],
  [5, 0.8, 5, 0.15, 4990],
  [6, 1, 9, 0.12, 9020],
  [6, 1, 9, 0.15, 7450],
  [8, 1.25, 22, 0.12, 16_700],
  [8, 1.25, 22, 0.15, 13_700],
] as const;

export const checkCases: readonly Case[] = [
  {
    id: 'frame.section-table',
    title: 'Thirteen stock tubes: area, second moment, section modulus',
    source: 'Closed form of the ring, evaluated by an independent program',
    standing: 'recomputed',
    rows: STOCK.flatMap(([od, wall, area, inertia, modulus]): Row[] => [
      {
        quantity: `area, ${od} × ${wall}`,
        unit: 'mm²',
        published: area,
        computed: () => tubeProperties(round(od, wall), 0.3).area,
        tolerance: digits(area, 1),
      },
      {
        quantity: `second moment, ${od} × ${wall}`,
        unit: 'mm⁴',
        published: inertia,
        computed: () => tubeProperties(round(od, wall), 0.3).iz,
        tolerance: digits(inertia, 0),
        ...(od === 50 && wall === 2
          ? {
              wrong: {
                what: 'thin-ring formula π r³ t on the outside radius',
                computed: () => Math.PI * 25 * 25 * 25 * 2,
              },
            }
          : {}),
      },
      {
        quantity: `section modulus, ${od} × ${wall}`,
        unit: 'mm³',
        published: modulus,
        computed: () => tubeProperties(round(od, wall), 0.3).wz,
        tolerance: digits(modulus, 0),
      },
    ]),
  },
  {
    id: 'frame.cowper',
    title: 'Shear coefficients',
    source: 'Cowper 1966, J. Appl. Mech. 33:335–340, formulas from memory; 40 × 2 evaluated by an independent program',
    standing: 'memory',
    rows: [
      {
        quantity: 'hollow circle 40 × 2, ν = 0.33',
        unit: '1',
        published: 0.53543,
        computed: () => shearCoefficient('round', 40, 40, 2, 0.33),
        tolerance: digits(0.53543, 5),
        wrong: { what: 'thin-wall limit 2(1 + ν)/(4 + 3ν)', computed: () => 2.66 / 4.99 },
      },
      {
        quantity: 'solid circle, ν = 0.3: 6(1 + ν)/(7 + 6ν)',
        unit: '1',
        published: 0.8863636,
        computed: () => shearCoefficient('round', 20, 20, 10, 0.3),
        tolerance: digits(0.8863636, 7),
      },
      {
        quantity: 'solid square, ν = 0.3: 10(1 + ν)/(12 + 11ν)',
        unit: '1',
        published: 0.8496732,
        computed: () => shearCoefficient('rectangular', 20, 20, 10, 0.3),
        tolerance: digits(0.8496732, 7),
      },
      {
        quantity: 'thin square tube, ν = 0.3: 20(1 + ν)/(48 + 39ν)',
        unit: '1',
        published: 0.4355109,
        computed: () => shearCoefficient('rectangular', 20, 20, 1e-8, 0.3),
        tolerance: digits(0.4355109, 7),
      },
    ],
  },
  {
    id: 'frame.torsion-bars',
    title: 'Torsion constants of solid bars',
    source: 'Timoshenko & Goodier 1970, Theory of Elasticity, art. 109, table of k₁ for a b³ (from memory)',
    standing: 'memory',
    rows: (
      [
        [1, 0.1406],
        [1.5, 0.196],
        [2, 0.229],
        [3, 0.263],
        [4, 0.281],
        [5, 0.291],
        [10, 0.312],
      ] as const
    ).map(([ratio, published]): Row => {
      const s = sectionSpread('rectangular', ratio, 1, 0.5);
      return {
        quantity: `side ratio ${ratio}`,
        unit: '1',
        published,
        computed: () => torsionConstant('rectangular', ratio, 1, 0.5, s.alongHeight + s.alongWidth) / ratio,
        tolerance: { absolute: 6e-4, why: 'printed to three digits' },
        ...(ratio === 2
          ? { wrong: { what: 'polar second moment in place of J', computed: () => (s.alongHeight + s.alongWidth) / 2 } }
          : {}),
      };
    }),
  },
  {
    id: 'frame.tube-wall',
    title: 'Local flexibility of a welded T-joint: brace Ø40 square on a Ø60 chord, E = 70 000 MPa',
    source: 'Fessler, Mockford & Webster 1986, coefficients from memory; evaluated by an independent program',
    standing: 'memory',
    rows: WALL.flatMap(([od, wall, axial, inPlane, outOfPlane]): Row[] => {
      const f = () => tubeWallFlex(round(od, wall), round(40, 2), 70_000, Math.PI / 2);
      return [
        {
          quantity: `along the brace, wall ${wall}`,
          unit: 'kN/mm',
          published: axial,
          computed: () => 1e-3 / f().axial,
          tolerance: digits(axial, 1),
        },
        {
          quantity: `in plane, wall ${wall}`,
          unit: 'kN·m/rad',
          published: inPlane,
          computed: () => 1e-6 / f().inPlane,
          tolerance: digits(inPlane, 1),
          ...(wall === 3
            ? {
                wrong: {
                  what: 'γ = D/T in place of D/2T',
                  computed: () => 1e-6 / tubeWallFlex(round(od, wall / 2), round(40, 2), 70_000, Math.PI / 2).inPlane,
                },
              }
            : {}),
        },
        {
          quantity: `out of plane, wall ${wall}`,
          unit: 'kN·m/rad',
          published: outOfPlane,
          computed: () => 1e-6 / f().outOfPlane,
          tolerance: digits(outOfPlane, wall === 2.5 ? 2 : 1),
        },
      ];
    }),
  },
  {
    id: 'frame.local-buckling',
    title: 'Thin tubes: elastic buckling of the wall and Brazier’s moment, ν = 0.3',
    source: 'NASA SP-8007 knock-down and Brazier 1927, formulas from memory; evaluated by an independent program',
    standing: 'memory',
    rows: [
      {
        quantity: 'perfect wall, aluminium 60 × 2',
        unit: 'MPa',
        published: 2922,
        computed: () => big().classical,
        tolerance: digits(2922, 0),
        wrong: { what: 'outside radius in place of the mean radius', computed: outsideRadius },
      },
      {
        quantity: 'axial, aluminium 60 × 2',
        unit: 'MPa',
        published: 2364,
        computed: () => big().axialElastic,
        tolerance: digits(2364, 0),
      },
      {
        quantity: 'bending, aluminium 60 × 2',
        unit: 'MPa',
        published: 2469,
        computed: () => big().bendingElastic,
        tolerance: digits(2469, 0),
      },
      {
        quantity: 'Brazier’s moment, aluminium 60 × 2',
        unit: 'N·m',
        published: 8404,
        computed: () => big().brazierMoment / 1000,
        tolerance: digits(8404, 0),
      },
      {
        quantity: 'perfect wall, steel 44.5 × 0.6',
        unit: 'MPa',
        published: 3391,
        computed: () => thin().classical,
        tolerance: digits(3391, 0),
      },
      {
        quantity: 'axial, steel 44.5 × 0.6',
        unit: 'MPa',
        published: 2430,
        computed: () => thin().axialElastic,
        tolerance: digits(2430, 0),
      },
      {
        quantity: 'bending, steel 44.5 × 0.6',
        unit: 'MPa',
        published: 2611,
        computed: () => thin().bendingElastic,
        tolerance: digits(2611, 0),
      },
    ],
  },
  {
    id: 'frame.dent',
    title: 'Force for a dent of 1 mm in a 60 × 2 tube, f_y = 240 MPa',
    source: 'Ellinas & Walker 1983; Wierzbicki & Suh 1988; formulas from memory, evaluated by hand',
    standing: 'memory',
    rows: [
      {
        quantity: 'Ellinas & Walker',
        unit: 'N',
        published: 4648,
        computed: () => dentForceEllinasWalker({ diameter: 60, wall: 2, yield: 240, depth: 1 }),
        tolerance: digits(4648, 0),
      },
      {
        quantity: 'Wierzbicki & Suh, no axial force',
        unit: 'N',
        published: 3403,
        computed: () => dentForceWierzbickiSuh({ diameter: 60, wall: 2, yield: 240, depth: 1 }),
        tolerance: digits(3403, 0),
        wrong: {
          what: 'tube squashed in tension: N = N_p',
          computed: () => dentForceWierzbickiSuh({ diameter: 60, wall: 2, yield: 240, depth: 1 }, 1),
        },
      },
    ],
  },
  {
    id: 'frame.lug',
    title: 'Lug D 10, W 24, t 6, e 13, F_tu 260 MPa',
    source: 'Hand method of Bruhn, D1 (formula from memory), evaluated by hand',
    standing: 'recomputed',
    rows: (
      [
        ['net tension', 21_840, 'netTension'],
        ['shear-out', 17_166, 'shearOut'],
        ['bearing', 23_400, 'bearing'],
        ['least', 17_166, 'ultimate'],
      ] as const
    ).map(([quantity, published, key]): Row => {
      const lug = { hole: 10, width: 24, thickness: 6, edge: 13, Ftu: 260 };
      return {
        quantity,
        unit: 'N',
        published,
        computed: () => lugByHand(lug)[key],
        tolerance: digits(published, 0),
        ...(key === 'shearOut'
          ? {
              wrong: {
                what: 'planes of shear at the hole’s centre line: 2 t e',
                computed: () => 156 * 2 * 6 * 13,
              },
            }
          : {}),
      };
    }),
  },
  {
    id: 'frame.pin',
    title: 'Pin Ø8 in double shear, 6000 N, plates 4 + 8 + 4, gap 0.25',
    source: 'Bruhn, D1, and EN 1993-1-8:2005, 3.13 (both from memory; the same figure), evaluated by hand',
    standing: 'recomputed',
    rows: (
      [
        ['arm', 'mm', 4.25, 'arm', 2],
        ['moment', 'N·mm', 12_750, 'moment', 0],
        ['bending stress', 'MPa', 253.7, 'bending', 1],
        ['mean shear stress', 'MPa', 59.7, 'shear', 1],
        ['von Mises', 'MPa', 273.9, 'vonMises', 1],
      ] as const
    ).map(([quantity, unit, published, key, decimals]): Row => {
      const pin = { load: 6000, diameter: 8, outer: 4, inner: 8, gap: 0.25 };
      return {
        quantity,
        unit,
        published,
        computed: () => pinStress(pin)[key],
        tolerance: digits(published, decimals),
        ...(key === 'moment'
          ? { wrong: { what: 'gap forgotten', computed: () => pinStress({ ...pin, gap: 0 }).moment } }
          : {}),
      };
    }),
  },
  {
    id: 'frame.threads',
    title: 'Preload of metric bolts by torque, head ring 1.3 d',
    source: 'VDI 2230-1 long form (from memory), evaluated by an independent program; ISO 898-1 stress areas (memory)',
    standing: 'memory',
    rows: [
      ...BOLTS.map(
        ([d, p, torque, mu, preload]): Row => ({
          quantity: `preload, M${d} at ${torque} N·m, μ ${mu}`,
          unit: 'N',
          published: preload,
          computed: () => preloadFromTorque(metricThread(d, p), torque * 1000, { thread: mu, head: mu }),
          tolerance: { relative: 5e-3, why: 'compared to three digits' },
          ...(d === 6 && mu === 0.12
            ? {
                wrong: {
                  what: 'friction under the head forgotten',
                  computed: () => preloadFromTorque(metricThread(d, p), torque * 1000, { thread: mu, head: 0 }),
                },
              }
            : {}),
        }),
      ),
      ...(
        [
          [0.12, 0.166],
          [0.15, 0.201],
        ] as const
      ).map(
        ([mu, K]): Row => ({
          quantity: `nut factor K, M6, μ ${mu}`,
          unit: '1',
          published: K,
          computed: () => tighteningArm(metricThread(6, 1), { thread: mu, head: mu }).total / 6,
          tolerance: digits(K, 3),
        }),
      ),
      ...(
        [
          [5, 0.8, 14.2],
          [6, 1, 20.1],
          [8, 1.25, 36.6],
        ] as const
      ).map(
        ([d, p, area]): Row => ({
          quantity: `stress area, M${d}`,
          unit: 'mm²',
          published: area,
          computed: () => metricThread(d, p).stressArea,
          tolerance: digits(area, 1),
        }),
      ),
      {
        quantity: 'proof load, M6 class 8.8',
        unit: 'N',
        published: 11_600,
        computed: () => PROOF_STRESS['8.8']! * metricThread(6, 1).stressArea,
        tolerance: { absolute: 100, why: 'the table prints three digits, cut, not rounded: 580 × 20.1 = 11 658' },
      },
    ],
  },
  {
    id: 'frame.bolted-joint',
    title: 'Preloaded bolt under a pull: C = 0.2, preload 10 000 N',
    source: 'Springs in parallel, closed form',
    standing: 'theory',
    rows: [
      {
        quantity: 'faces part at F_p/(1 − C)',
        unit: 'N',
        published: 12_500,
        computed: () => boltedJoint({ preload: 10_000, bolt: 1, clamped: 4 }, 0).opensAt,
        tolerance: { relative: 1e-12, why: 'identity' },
        wrong: { what: 'faces taken to part at the preload', computed: () => 10_000 },
      },
      {
        quantity: 'bolt at 5000 N',
        unit: 'N',
        published: 11_000,
        computed: () => boltedJoint({ preload: 10_000, bolt: 1, clamped: 4 }, 5000).boltForce,
        tolerance: { relative: 1e-12, why: 'identity' },
      },
    ],
  },
  {
    id: 'frame.play',
    title: 'Free angle of a pin’s clearance over its base, and the way at 500 mm',
    source: 'Geometry, small angles, evaluated by hand',
    standing: 'recomputed',
    rows: [
      ...(
        [
          [0.05, 30, 0.83],
          [0.1, 30, 1.67],
          [0.1, 60, 0.83],
        ] as const
      ).map(
        ([c, s, way]): Row => ({
          quantity: `way at 500 mm, clearance ${c}, base ${s}`,
          unit: 'mm',
          published: way,
          computed: () => 500 * freeAngle(c, s),
          tolerance: digits(way, 2),
        }),
      ),
      {
        quantity: 'angle, clearance 0.05, base 30',
        unit: 'mrad',
        published: 1.667,
        computed: () => 1000 * freeAngle(0.05, 30),
        tolerance: digits(1.667, 3),
        wrong: { what: 'half of the free way, ±c/2s', computed: () => 500 * freeAngle(0.05, 30) },
      },
      {
        quantity: 'moment that opens a face: 3000 N at 20 mm',
        unit: 'N·mm',
        published: 60_000,
        computed: () => openingMoment(3000, 20),
        tolerance: { relative: 1e-12, why: 'identity' },
      },
    ],
  },
  {
    id: 'frame.dummy-fork',
    title: 'Dummy fork of the frame tests: L = 460 mm, δ = 6.85 mm at 1200 N',
    source: 'ISO 4210-6:2014, Annex A, worked example, as printed in the open industry standard of the same text',
    standing: 'published',
    rows: [
      {
        quantity: 'deflection ratio',
        unit: '1',
        published: 0.99721,
        computed: () => dummyForkRatio(460, 6.85),
        tolerance: digits(0.99721, 5),
        wrong: { what: 'constant of the impact tests, 709', computed: () => dummyForkRatio(460, 6.85, 'impact') },
      },
    ],
  },
  {
    id: 'frame.dummy-fork-stiffness',
    title: 'Dummy fork as a uniform cantilever',
    source: 'Cantilever δ = F L³/3EI in the rule of ISO 4210-6:2014, Annex A',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'least EI',
        unit: 'N·mm²',
        published: 5.668e9,
        computed: () => dummyForkStiffness(),
        tolerance: { relative: 1e-12, why: 'identity' },
      },
      {
        quantity: 'least stiffness at L = 460 mm',
        unit: 'N/mm',
        published: 174.7,
        computed: () => (3 * dummyForkStiffness()) / (460 * 460 * 460),
        tolerance: digits(174.7, 1),
      },
    ],
  },
];
