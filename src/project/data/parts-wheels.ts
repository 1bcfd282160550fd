/**
 * Wheels by their ISO 5775 designation, hub gears, tyres' radii.
 *
 * Outer radius = bead-seat diameter / 2 + tyre width (ISO 5775: section height taken as its width). Loaded radius: 1.5 %
 * less (from memory: 1-2 %). Masses by wheel size, from memory; the tyre's width does not change them.
 */
import { spokedWheelInertia, tyreDiameter } from '#kernel';
import { capsule, count, disc, length, range, rangeBetween, rangeTimes, sized } from './part-build.ts';
import type { MassRange, PartDefinition } from './part-types.ts';
import { readTyreSize } from './tyre-size.ts';

/** Loaded over unloaded radius. */
export const LOADED_SHARE = 0.985;

/** Bead-seat diameter (m) → whole wheel with tyre and tube, plain hub. From memory. */
const FRONT: readonly (readonly [number, MassRange])[] = [
  [0.349, range(0.75, 1.0, 1.3)],
  [0.406, range(0.95, 1.25, 1.6)],
  [0.559, range(1.4, 1.7, 2.2)],
];
const REAR: readonly (readonly [number, MassRange])[] = [
  [0.349, range(1.0, 1.35, 1.8)],
  [0.406, range(1.25, 1.6, 2.1)],
  [0.559, range(1.7, 2.1, 2.7)],
];
/** Below the smallest size of the table the mass shrinks with the diameter. */
const SMALLEST = 0.305;

function wheelMass(bsd: number, end: 'front' | 'rear'): MassRange {
  const r = rangeBetween(end === 'front' ? FRONT : REAR, bsd);
  return bsd < SMALLEST ? rangeTimes(r, bsd / SMALLEST) : r;
}

function wheel(end: 'front' | 'rear'): PartDefinition {
  const front = end === 'front';
  return {
    kind: 'wheel',
    group: 'wheels',
    label: front ? 'Front wheel with tyre and tube' : 'Rear wheel with tyre, tube and plain hub',
    at: 'centre of the hub',
    names: ['16-203', '35-349', '40-406', '47-406', '28-451', '47-507', '50-559', '37-622'].map(
      (size) => `wheel ${size} ${end}`,
    ),
    read(id) {
      const [, size = '', which] = /^wheel (\S+) (front|rear)$/.exec(id) ?? [];
      const tyre = which === end ? readTyreSize(size) : undefined;
      return tyre && { width: tyre.width, bsd: tyre.beadSeat };
    },
    fasteners: 2,
    parameters: {
      bsd: length(0.406, 'bead-seat diameter'),
      width: length(0.04, 'tyre width'),
      hub_mass: { kind: 'mass', fallback: front ? 0.2 : 0.35, meaning: 'hub in the wheel, for its inertia' },
      over_locknut: length(front ? 0.1 : 0.12, 'width over the locknuts'),
      axle_overhang: length(0.012, 'axle and nut beyond the locknut, each side'),
      loaded: { kind: 'count', fallback: LOADED_SHARE, meaning: 'rolling radius over outer radius' },
    },
    build(v) {
      const bsd = v.num('bsd');
      const width = v.num('width');
      const radius = tyreDiameter(bsd, width) / 2;
      const mass = wheelMass(bsd, end);
      const hubRadius = front ? 0.02 : 0.03;
      const hubWidth = v.num('over_locknut');
      // Spokes: 0.22 kg in a 622 wheel, in proportion to the diameter (from memory). A wheel too light for them keeps half its mass as hoop.
      const fixed = v.num('hub_mass') + (0.22 * bsd) / 0.622;
      const k = Math.min(1, mass.typical / 2 / fixed);
      const inertia = spokedWheelInertia({
        mass: mass.typical,
        radius,
        tyreWidth: width,
        hubMass: v.num('hub_mass') * k,
        hubRadius,
        hubWidth,
        spokeMass: ((0.22 * bsd) / 0.622) * k,
      });
      const half = hubWidth / 2 + v.num('axle_overhang');
      return {
        mass,
        shapes: [
          disc('wheel', [0, 0, 0], radius, width / 2),
          capsule('hub', [0, -half + hubRadius / 2, 0], [0, half - hubRadius / 2, 0], hubRadius / 2),
        ],
        lumps: [
          {
            mass: mass.typical,
            com: [0, 0, 0],
            inertia: [inertia.diametral, inertia.polar, inertia.diametral, 0, 0, 0],
          },
        ],
        wheel: {
          end,
          bsd,
          width,
          radius,
          loadedRadius: radius * v.num('loaded'),
          polar: inertia.polar,
          diametral: inertia.diametral,
        },
      };
    },
  };
}

/** Net of the plain hub (0.3 kg) that it replaces. From memory. */
const GEARS: readonly (readonly [number, MassRange])[] = [
  [2, range(0.5, 0.65, 0.8)],
  [3, range(0.6, 0.75, 0.9)],
  [5, range(0.9, 1.1, 1.3)],
  [7, range(1.2, 1.35, 1.5)],
  [8, range(1.2, 1.35, 1.5)],
  [11, range(1.3, 1.4, 1.5)],
  [14, range(1.4, 1.5, 1.6)],
];

export const WHEEL_PARTS: readonly PartDefinition[] = [
  wheel('front'),
  wheel('rear'),
  {
    kind: 'hub_gear',
    group: 'drive',
    label: 'Hub gear, beyond the plain hub that it replaces',
    at: 'centre of the rear hub',
    names: ['hub gear 3', 'hub gear 5', 'hub gear 7', 'hub gear 8', 'hub gear 11'],
    read: sized('hub gear', 'gears', 1),
    adjustments: 1,
    fasteners: 1,
    parameters: { gears: count(3, 'number of gears') },
    build(v) {
      return {
        mass: rangeBetween(GEARS, v.num('gears')),
        // a shell between the spoke flanges: a capsule's round ends would reach past the frame's ends
        shapes: [disc('hub_gear', [0, 0, 0], 0.045, 0.03)],
        hubGears: v.num('gears'),
      };
    },
  },
];
