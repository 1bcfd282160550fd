/** Rider: room round the pedals, worked by hand and by brute force. */
import { aheadFromAbove, aheadToWheel, pedalLean, pedalToWheel, type TurningWheel } from '#kernel';
import type { Case, Row } from '../case.ts';

const DEG = 180 / Math.PI;
/** Front centre 600 mm, crank 170, bottom bracket 290 mm high; head 72°, fork offset 45 mm; guard 12 mm outside the tyre. */
const wheel = (radius: number, centre = 0.6): TurningWheel => {
  const head = 72 / DEG;
  // the axis passes the hub at the fork's offset behind it, square to the axis
  const point = [centre - 0.045 * Math.sin(head), 0, radius - 0.045 * Math.cos(head)] as const;
  return {
    centre: [centre, 0, radius],
    radius: radius + 0.012,
    halfWidth: 0,
    point: [...point],
    axis: [-Math.cos(head), 0, Math.sin(head)],
  };
};
const straight = (radius: number, centre = 0.6): number =>
  1000 * aheadToWheel([0.17, 0, 0.29], wheel(radius, centre), 0);
const TENTH = { absolute: 0.05, why: 'printed to 0.1 mm' } as const;
const SIZES = [
  ['28-622', 0.339, 82.4, 101.7, 23],
  ['40-406', 0.243, 179.4, 210, 35.5],
  // the source calls this its least; the exact least is 252 mm at 42.4°, where the rim first reaches the pedal's plane
  ['35-349', 0.2095, 223.6, 258, 47.5],
] as const;

export const roomCases: readonly Case[] = [
  {
    id: 'rider.toe-room',
    title: 'Pedal to front wheel, straight ahead and over the steering',
    source:
      'Straight: front centre − crank − √(R² − (h − r)²), by hand; steered, seen from above: brute force over 0.5° of steering, pedal centre 115 mm off the mid-plane, thin wheel',
    standing: 'recomputed',
    rows: [
      ...SIZES.flatMap(([name, radius, ahead, least, angle]): Row[] => [
        {
          quantity: `${name}: straight ahead`,
          unit: 'mm',
          published: ahead,
          computed: () => straight(radius),
          tolerance: TENTH,
          ...(name === '28-622'
            ? { wrong: { what: 'front centre less crank less radius', computed: () => 600 - 170 - 351 } }
            : {}),
        },
        {
          quantity: `${name}: at ${angle}° of steering`,
          unit: 'mm',
          published: least,
          computed: () => 1000 * aheadFromAbove([0.17, 0.115, 0.29], wheel(radius), -angle / DEG),
          tolerance: {
            absolute: 0.6,
            why: 'printed to a millimetre (0.1 mm for 28-622) from points of the rim and steps of 0.5°, in which it moves by as much',
          },
          ...(name === '35-349'
            ? {
                wrong: {
                  what: 'fork offset left out',
                  computed: () =>
                    1000 *
                    aheadFromAbove([0.17, 0.115, 0.29], { ...wheel(radius), point: [0.6, 0, radius] }, -angle / DEG),
                },
              }
            : {}),
        },
      ]),
      {
        quantity: '28-622, front centre 560 mm: least over the steering',
        unit: 'mm',
        published: 61.7,
        computed: () => 1000 * pedalToWheel([0.17, 0.115, 0.29], wheel(0.339, 0.56), 70 / DEG).gap,
        tolerance: { absolute: 0.15, why: 'printed to 0.1 mm from steps of 0.5°' },
      },
    ],
  },
  {
    id: 'rider.lean',
    title: 'Lean until a pedal touches',
    source:
      'tan λ = (h − L − e)/q by hand: bracket 290, crank 170, underside 15 below the axle, edge 190 mm off the mid-plane',
    standing: 'theory',
    rows: [
      {
        quantity: 'lean',
        unit: 'deg',
        published: 28.9,
        computed: () => pedalLean(0.29, 0.17, 0.015, 0.19) * DEG,
        tolerance: { absolute: 0.05, why: 'printed to 0.1°' },
        wrong: { what: 'pedal thickness left out', computed: () => pedalLean(0.29, 0.17, 0, 0.19) * DEG },
      },
      {
        quantity: 'bracket height for 25°',
        unit: 'mm',
        published: 273.6,
        computed: () => {
          let [low, high] = [0.2, 0.4];
          for (let i = 0; i < 50; i++) {
            const mid = (low + high) / 2;
            if (pedalLean(mid, 0.17, 0.015, 0.19) * DEG < 25) low = mid;
            else high = mid;
          }
          return 1000 * low;
        },
        tolerance: TENTH,
      },
    ],
  },
];
