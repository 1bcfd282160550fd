/** Wheels, gears, belts and chains: agreement with standards' sizes, closed forms and independent computations. */
import { beltWheel, centresFor, chainWheel, gearSet, loopAround, pulley, rollOut, tyreDiameter } from '#kernel';
import type { Case, Row } from '../case.ts';
import { tautRound } from './taut-polygons.ts';

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

export const loopCases: readonly Case[] = [
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
];
