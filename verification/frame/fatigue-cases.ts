/** Fatigue: agreement with codes, published worked examples and hand calculations. */
import {
  cyclesAtRange,
  type FatigueCurve,
  fatigueCurve,
  fatigueReserve,
  MPA_PER_KSI,
  milCycles,
  milLine,
  milStress,
  minerDamage,
  minerLife,
  rangeAtCycles,
  teeHotSpotFactors,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const EC3 = fatigueCurve({ code: 'EN1993-1-9', category: 100 });
const EC9 = fatigueCurve({ code: 'EN1999-1-3', category: 25, slope: 3.4 });
const iiw = (category: number): FatigueCurve => fatigueCurve({ code: 'IIW', category });

const printed = (absolute: number, why = 'half a unit of the last digit printed') => ({ absolute, why });

/** Range that a FAT class bears for the cycles of the two bicycle tests. */
const testRanges: readonly [fat: number, at1e5: number, at5e4: number][] = [
  [22, 59.7, 75.2],
  [36, 97.7, 123.1],
  [63, 171, 215.5],
  [71, 192.7, 242.8],
];

const BLOCKS = [
  { range: 60, cycles: 1e5 },
  { range: 40, cycles: 3e5 },
  { range: 25, cycles: 2e6 },
  { range: 15, cycles: 2e7 },
] as const;
const LIVES = [101_932, 404_596, 2_000_000, 18_404_791] as const;

const MIXTURE = minerLife([50_000, 6_500, 1_000], [40 / 60, 15 / 60, 5 / 60]);
const aluminium = milLine('6061-T6')!;
const steel = milLine('25CrMo4')!;
const reversed = (ksi: number) => ({ max: ksi * MPA_PER_KSI, min: -ksi * MPA_PER_KSI });

/** The tee of the hot-spot case: 60 × 2 through, 40 × 2 ending on it square: β 2/3, γ 15, τ 1. */
const TEE = teeHotSpotFactors({ chordOd: 60, chordWall: 2, braceOd: 40, braceWall: 2, angle: Math.PI / 2 });

export const cases: readonly Case[] = [
  {
    id: 'frame.fatigue-en1993-knees',
    title: 'S-N curve of welded steel: constant-amplitude limit and cut-off',
    source: 'EN 1993-1-9:2005, 7.1: ΔσD = 0.737 Δσc at 5·10⁶ cycles, ΔσL = 0.549 ΔσD at 1·10⁸',
    standing: 'memory',
    rows: [
      {
        quantity: 'ΔσD/Δσc',
        unit: '1',
        published: 0.737,
        computed: () => EC3.limit / 100,
        tolerance: printed(5e-4),
        wrong: { what: 'second slope used before the knee', computed: () => Math.exp(Math.log(2 / 5) / 5) },
      },
      {
        quantity: 'ΔσL/ΔσD',
        unit: '1',
        published: 0.549,
        computed: () => EC3.cutOff / EC3.limit,
        tolerance: printed(5e-4),
      },
      {
        quantity: 'ΔσD/Δσc, four digits',
        unit: '1',
        published: 0.7368,
        computed: () => EC3.limit / 100,
        tolerance: printed(5e-5, '(2/5)^(1/3), four digits'),
      },
      {
        quantity: 'ΔσL/Δσc',
        unit: '1',
        published: 0.4047,
        computed: () => EC3.cutOff / 100,
        tolerance: printed(5e-5, 'times (1/20)^(1/5), four digits'),
      },
      {
        quantity: 'shear cut-off ΔτL/Δτc',
        unit: '1',
        published: 0.457,
        computed: () => fatigueCurve({ code: 'EN1993-1-9', category: 1, stress: 'shear' }).cutOff,
        tolerance: printed(5e-4),
      },
    ],
  },
  {
    id: 'frame.fatigue-iiw-test-ranges',
    title: 'Ranges that welds bear for 100,000 and 50,000 cycles',
    source: 'FAT × 20^(1/3) and FAT × 40^(1/3), evaluated by hand; classes of IIW-1823-07 from memory',
    standing: 'recomputed',
    rows: testRanges.flatMap(([fat, long, short]): Row[] => [
      {
        quantity: `FAT ${fat} at 1e5`,
        unit: 'MPa',
        published: long,
        computed: () => rangeAtCycles(iiw(fat), 1e5),
        tolerance: printed(0.05),
        ...(fat === 22
          ? { wrong: { what: 'class taken at 1e6 cycles', computed: () => 22 * Math.exp(Math.log(10) / 3) } }
          : {}),
      },
      {
        quantity: `FAT ${fat} at 5e4`,
        unit: 'MPa',
        published: short,
        computed: () => rangeAtCycles(iiw(fat), 5e4),
        tolerance: printed(0.05),
      },
    ]),
  },
  {
    id: 'frame.fatigue-en1999-25-3.4',
    title: 'S-N curve of welded aluminium, category 25-3.4',
    source: 'EN 1999-1-3:2007, 6.2: ΔσD = Δσc (2/5)^(1/m1), m2 = m1 + 2 to 1·10⁸; evaluated by hand',
    standing: 'recomputed',
    rows: [
      { quantity: 'limit ΔσD', unit: 'MPa', published: 19.09, computed: () => EC9.limit, tolerance: printed(0.005) },
      {
        quantity: 'cut-off ΔσL',
        unit: 'MPa',
        published: 10.96,
        computed: () => EC9.cutOff,
        tolerance: printed(0.005),
        wrong: { what: 'first slope carried to 1e8', computed: () => EC9.limit * Math.exp(Math.log(1 / 20) / 3.4) },
      },
      {
        quantity: 'range at 1e5',
        unit: 'MPa',
        published: 60.3,
        computed: () => rangeAtCycles(EC9, 1e5),
        tolerance: printed(0.05),
      },
      {
        quantity: 'range at 5e4',
        unit: 'MPa',
        published: 74.0,
        computed: () => rangeAtCycles(EC9, 5e4),
        tolerance: printed(0.05),
      },
    ],
  },
  {
    id: 'frame.fatigue-miner-mixture',
    title: 'Life under a mixture of three levels',
    source:
      'Published worked example of linear damage: lives 50,000, 6,500 and 1,000 cycles, 40, 15 and 5 minutes of each hour',
    standing: 'published',
    rows: [
      {
        quantity: 'life of the mixture',
        unit: 'blocks',
        published: 7400.37951,
        computed: () => MIXTURE.life,
        tolerance: printed(5e-6),
        wrong: {
          what: 'mean of the lives instead of the mean of the rates',
          computed: () => (50_000 * 40 + 6_500 * 15 + 1_000 * 5) / 60,
        },
      },
      ...([9.86717, 28.463, 61.66983] as const).map(
        (published, i): Row => ({
          quantity: `share of level ${i + 1}`,
          unit: '%',
          published,
          computed: () => 100 * MIXTURE.damageShares[i]!,
          tolerance: printed(5e-6),
        }),
      ),
    ],
  },
  {
    id: 'frame.fatigue-miner-blocks',
    title: 'Four blocks on category 25-3.4',
    source: 'EN 1999-1-3 curve, evaluated by hand block by block',
    standing: 'recomputed',
    rows: [
      ...BLOCKS.map(
        ({ range }, i): Row => ({
          quantity: `life at ${range} MPa`,
          unit: 'cycles',
          published: LIVES[i]!,
          computed: () => cyclesAtRange(EC9, range),
          tolerance: printed(0.5),
        }),
      ),
      {
        quantity: 'damage',
        unit: '1',
        published: 3.8092,
        computed: () => minerDamage(EC9, BLOCKS).damage,
        tolerance: printed(5e-5),
        wrong: {
          what: 'ranges under the constant-amplitude limit left out',
          computed: () => minerDamage(EC9, BLOCKS.slice(0, 3)).damage,
        },
      },
    ],
  },
  {
    id: 'frame.fatigue-bare-metal',
    title: 'Bare metal by equivalent-stress lines',
    source:
      'MIL-HDBK-5J (2003), lines of 6061-T6 and of normalised 4130 from memory; evaluated by hand. 1 ksi = 6.894757 MPa',
    standing: 'recomputed',
    rows: [
      {
        quantity: '6061-T6, 25 ksi reversed',
        unit: '10⁵ cycles',
        published: 1.143,
        computed: () => milCycles(aluminium, reversed(25)).cycles / 1e5,
        tolerance: printed(5e-4),
        wrong: {
          what: 'MPa put into a line in ksi',
          computed: () => milCycles(aluminium, reversed(25 * MPA_PER_KSI)).cycles / 1e5,
        },
      },
      {
        quantity: '6061-T6, pulsating, 1e5 cycles',
        unit: 'ksi',
        published: 39.2,
        computed: () => milStress(aluminium, 1e5, 0) / MPA_PER_KSI,
        tolerance: printed(0.05),
      },
      {
        quantity: 'the same',
        unit: 'MPa',
        published: 270,
        computed: () => milStress(aluminium, 1e5, 0),
        tolerance: printed(0.5),
      },
      {
        quantity: '6061-T6, reversed, 1e7 cycles',
        unit: 'MPa',
        published: 109,
        computed: () => milStress(aluminium, 1e7, -1),
        tolerance: printed(0.5),
      },
      {
        quantity: '4130, 60 ksi reversed',
        unit: '10⁶ cycles',
        published: 1.106,
        computed: () => milCycles(steel, reversed(60)).cycles / 1e6,
        tolerance: printed(5e-4),
      },
      {
        quantity: '4130, reversed run-out',
        unit: 'MPa',
        published: 318,
        computed: () => milStress(steel, 1e30, -1),
        tolerance: printed(0.5),
      },
    ],
  },
  {
    id: 'frame.fatigue-pedalling',
    title: 'Pedalling test on a fillet-welded 6061-T6 frame: allowable range',
    source: 'ISO 4210-6 cycles (100,000, from memory) on FAT 22 of IIW-1823-07, evaluated by hand',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'allowable range',
        unit: 'MPa',
        published: 59.7,
        computed: () => fatigueReserve({ name: 'toe', curve: iiw(22), range: 40, cycles: 1e5 }).allowable,
        tolerance: printed(0.05),
      },
      {
        quantity: 'reserve at 40 MPa',
        unit: '1',
        published: 1.49,
        computed: () => fatigueReserve({ name: 'toe', curve: iiw(22), range: 40, cycles: 1e5 }).reserve,
        tolerance: printed(0.005),
        wrong: {
          what: 'category at 2e6 cycles used for the test',
          computed: () => fatigueReserve({ name: 'toe', curve: iiw(22), range: 40, cycles: 2e6 }).reserve,
        },
      },
    ],
  },
  {
    id: 'frame.fatigue-hot-spot',
    title: 'Hot-spot factors of a square tee, 40 × 2 on 60 × 2',
    source:
      'Efthymiou 1988, Table 1, equations T1–T4 and T8–T11 in a public transcription, at β = 2/3, γ = 15, τ = 1, α = 12, C = 0.5; evaluated by hand',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'axial, saddle (T1)',
        unit: '1',
        published: 15.682,
        computed: () => TEE.chord.axialSaddle,
        tolerance: printed(5e-4),
        wrong: {
          what: 'diameter over wall instead of radius over wall',
          computed: () => 2 * TEE.chord.axialSaddle,
        },
      },
      {
        quantity: 'axial, crown (T2)',
        unit: '1',
        published: 4.557,
        computed: () => TEE.chord.axialCrown,
        tolerance: printed(5e-4),
      },
      {
        quantity: 'in plane, crown (T8)',
        unit: '1',
        published: 4.248,
        computed: () => TEE.chord.inPlaneCrown,
        tolerance: printed(5e-4),
      },
      {
        quantity: 'out of plane, saddle (T10)',
        unit: '1',
        published: 13.889,
        computed: () => TEE.chord.outOfPlaneSaddle,
        tolerance: printed(5e-4),
      },
      ...(
        [
          ['brace, axial, saddle (T3)', 9.41, () => TEE.brace.axialSaddle],
          ['brace, axial, crown (T4)', 2.181, () => TEE.brace.axialCrown],
          ['brace, in plane, crown (T9)', 3.066, () => TEE.brace.inPlaneCrown],
          ['brace, out of plane, saddle (T11)', 8.4, () => TEE.brace.outOfPlaneSaddle],
        ] as const
      ).map(
        ([quantity, published, computed]): Row => ({
          quantity,
          unit: '1',
          published,
          computed,
          tolerance: printed(5e-4),
        }),
      ),
    ],
  },
];
