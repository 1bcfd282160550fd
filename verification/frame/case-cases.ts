/** Load cases: statics of the tests worked by hand, energies of blows, orders of size of road loads. */
import {
  type BikeClass,
  caseFigures,
  caseWith,
  figureValues,
  forceOfEnergy,
  pedalTest,
  plasticBlow,
  tyreOnStep,
} from '#kernel';
import { RIDE } from '../../test/fixtures/frame-bicycle.ts';
import type { Case, Row } from '../case.ts';

const figures = figureValues(caseFigures('pedalling'), 'city', {});
const test = pedalTest(figures);
const half = (last: number, shown: string): Row['tolerance'] => ({ absolute: last / 2, why: `printed to ${shown}` });

const strikerEnergy =
  (id: 'falling_mass' | 'fork_impact', column: BikeClass, edits: Record<string, number> = {}) =>
  (): number => {
    const loads = caseWith(id, column, edits).load(RIDE);
    return loads.applicable ? (loads.blow?.energy ?? Number.NaN) / 1000 : Number.NaN;
  };

/** Greatest force on the front wheel over the rider's weight, 25 mm at 20 km/h. */
const stepMultiple = (coupled: number) => (): number => {
  const loads = caseWith('step', 'city', { height: 25, speed: 20, coupled }).load(RIDE);
  const peak = loads.applicable ? loads.findings.find((f) => f.what === 'front wheel, greatest force') : undefined;
  return (peak?.value ?? Number.NaN) / (RIDE.rider * 9.80665);
};

export const caseCases: readonly Case[] = [
  {
    id: 'frame.pedalling-test',
    title: 'Forces of the pedalling test at 1000 N',
    source:
      'ISO 4210-6, frame, pedalling forces: cranks of 175 mm at 45°, force 150 mm out and 7.5° tilted, tie rod on 75 mm; statics by hand',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'vertical part',
        unit: 'N',
        published: 991.44,
        computed: () => test.vertical,
        tolerance: half(0.02, '0.01 N, two roundings'),
      },
      {
        quantity: 'sideways part',
        unit: 'N',
        published: 130.53,
        computed: () => test.sideways,
        tolerance: half(0.01, '0.01 N'),
      },
      {
        quantity: 'torque about the crank axle',
        unit: 'N·mm',
        published: 122_685,
        computed: () => test.torque,
        tolerance: half(1, '1 N·mm'),
        wrong: { what: 'cranks taken as level', computed: () => pedalTest({ ...figures, crank_angle: 0 }).torque },
      },
      {
        quantity: 'tension of a level tie rod',
        unit: 'N',
        published: 1635.8,
        computed: () => test.rod,
        tolerance: half(0.1, '0.1 N'),
        wrong: { what: 'torque of the untilted force', computed: () => pedalTest({ ...figures, tilt: 0 }).rod },
      },
      {
        quantity: 'moment about the mid-plane',
        unit: 'N·mm',
        published: 148_717,
        computed: () => test.roll,
        tolerance: half(1, '1 N·mm'),
      },
    ],
  },
  {
    id: 'frame.blow-energy',
    title: 'Energy of a 22.5 kg striker',
    source: 'ISO 4210-6 heights of fall from memory; m g h by hand',
    standing: 'recomputed',
    rows: (
      [
        ['city', 39.7],
        ['mountain', 79.5],
        ['racing', 46.8],
      ] as const
    ).map(([column, published]) => ({
      quantity: `falling mass, ${column}`,
      unit: 'J',
      published,
      computed: strikerEnergy('falling_mass', column),
      tolerance: { absolute: 0.1, why: 'printed to 0.1 J; worked with g = 9.81, which is 0.03 % more' },
      ...(column === 'racing'
        ? { wrong: { what: 'the column of city bicycles', computed: strikerEnergy('falling_mass', 'city') } }
        : {}),
    })),
  },
  {
    id: 'frame.energy-16cfr',
    title: 'Fork and frame test: 39.5 J is the same striker from 179 mm',
    source: '16 CFR 1512.14 (39.5 J); m g h by hand',
    standing: 'published',
    rows: [
      {
        quantity: 'energy',
        unit: 'J',
        published: 39.5,
        computed: strikerEnergy('falling_mass', 'city', { drop: 179 }),
        tolerance: half(0.1, '0.1 J'),
      },
    ],
  },
  {
    id: 'frame.sudden-load',
    title: 'A weight laid on suddenly doubles; a blow beyond the hinge spends the rest of its energy there',
    source: 'Energy of a mass on an elastic–perfectly plastic spring, closed form',
    standing: 'theory',
    rows: [
      {
        quantity: 'force over weight, no fall',
        unit: '1',
        published: 2,
        computed: () => forceOfEnergy(0, 130, 220) / 220,
        tolerance: { relative: 1e-14, why: 'exact' },
      },
      {
        quantity: 'set after 39.717 J, 100 N/mm, hinge at 2000 N',
        unit: 'mm',
        published: 9.8585,
        computed: () =>
          plasticBlow({ energy: 39_717, weight: 0, stiffness: 100, firstYield: 2000, collapse: 2500 }).set[1],
        tolerance: { absolute: 1e-9, why: '(39717 − 20000)/2000, exact' },
        wrong: {
          what: 'elastic part forgotten',
          computed: () =>
            plasticBlow({ energy: 39_717 + 20_000, weight: 0, stiffness: 100, firstYield: 2000, collapse: 2500 })
              .set[1],
        },
      },
    ],
  },
  {
    id: 'frame.step',
    title: 'A step of 25 mm under a small wheel',
    source: 'Limit of a rigid hub path, closed form; order of size of the force from memory',
    standing: 'memory',
    rows: [
      {
        quantity: 'greatest force over the rider’s weight, 25 mm at 20 km/h',
        unit: '1',
        published: 2.75,
        computed: stepMultiple(0.4),
        tolerance: { absolute: 0.75, why: '2 to 3.5 times the rider’s weight for 20 to 30 mm at 20 km/h, recalled' },
        wrong: { what: 'step taken four times as high', computed: () => wrongStep() },
      },
    ],
  },
];

const wrongStep = (): number =>
  tyreOnStep({
    radius: 200,
    height: 99,
    speed: 5556,
    load: 475,
    tyre: { stiffness: 130, stroke: 30, rim: 1000 },
    mobility: { xx: 1 / 60, xz: 0, zz: 1 / 25 },
  }).peak /
  (110 * 9.80665);
