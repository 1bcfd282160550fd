/**
 * Cranksets, pedals, chains, belts, derailleur and electric parts. Masses from memory.
 *
 * Cranks are level, right crank forward. Lateral sizes from memory: tread 156 mm over the arms, chainline 43 mm.
 */
import { boxMass, pitchRadius, rodMass, type Vec3 } from '#kernel';
import { box, capsule, count, disc, length, plain, range, rangeTimes, sized } from './part-build.ts';
import type { PartDefinition, PedalFacts } from './part-types.ts';

const ARM_RADIUS = 0.011;
const CHAIN_RADIUS = 0.006;
/** Gap between the arm's outer face and the pedal body. */
const PEDAL_GAP = 0.008;

const crankset: PartDefinition = {
  kind: 'crankset',
  group: 'drive',
  label: 'Crankset with one chainring',
  at: 'centre of the bottom bracket',
  names: ['crankset 150', 'crankset 165', 'crankset 170'],
  read: sized('crankset', 'length'),
  fasteners: 2,
  parameters: {
    length: length(0.165, 'crank length'),
    ring: count(46, 'teeth of the chainring'),
    sprocket: count(16, 'teeth of the rear sprocket'),
    tread: length(0.156, 'over the outer faces of the crank arms'),
    chainline: length(0.043, 'chainring to the mid-plane'),
  },
  build(v) {
    const l = v.num('length');
    const y = v.num('tread') / 2 - ARM_RADIUS;
    const line = -v.num('chainline');
    const ring = pitchRadius(v.num('ring')) + 0.004;
    const right: [Vec3, Vec3] = [
      [0, -y, 0],
      [l, -y, 0],
    ];
    const left: [Vec3, Vec3] = [
      [0, y, 0],
      [-l, y, 0],
    ];
    return {
      mass: range(0.55, 0.7, 1.0),
      shapes: [
        capsule('crank_right', ...right, ARM_RADIUS),
        capsule('crank_left', ...left, ARM_RADIUS),
        disc('chainring', [0, line, 0], ring, 0.005),
      ],
      // Shares from memory: arms 0.2 kg each, ring and spider 0.25, spindle 0.05 of 0.7 kg.
      lumps: [
        rodMass(0.2, ...right, ARM_RADIUS),
        rodMass(0.2, ...left, ARM_RADIUS),
        { mass: 0.25, com: [0, line, 0], inertia: ringInertia(0.25, ring * 0.7) },
        rodMass(0.05, [0, -y, 0], [0, y, 0], 0.008),
      ],
      crank: {
        length: l,
        tread: v.num('tread'),
        chainline: v.num('chainline'),
        ring: v.num('ring'),
        sprocket: v.num('sprocket'),
      },
    };
  },
};

const ringInertia = (m: number, r: number): [number, number, number, number, number, number] => [
  (m * r * r) / 2,
  m * r * r,
  (m * r * r) / 2,
  0,
  0,
  0,
];

function pedal(name: string, label: string, folds: boolean): PartDefinition {
  return {
    kind: 'pedal',
    group: 'drive',
    label,
    at: 'centre of the bottom bracket (the crank carries it outward)',
    names: [name],
    read: plain(name),
    fasteners: 1,
    handActions: folds ? 1 : 0,
    parameters: {
      side: { kind: 'side', fallback: 'left', meaning: 'left, or right' },
      crank_length: length(0.165, 'crank length', 'crank_length'),
      tread: length(0.156, 'over the outer faces of the crank arms'),
      size: { kind: 'size', fallback: [0.1, 0.095, 0.028], meaning: 'fore-aft, lateral, thick' },
      folded: { kind: 'flag', fallback: false, meaning: 'drawn folded up against the crank' },
    },
    build(v) {
      const side = v.side();
      const s = side === 'left' ? 1 : -1;
      const [lx, ly, lz] = v.vec('size');
      const x = -s * v.num('crank_length');
      const root = v.num('tread') / 2 + PEDAL_GAP;
      const centre: Vec3 = [x, s * (root + ly / 2), 0];
      const turned = folds && v.flag('folded');
      // Folded up: a quarter-turn about a fore-aft line at the root, just inside the pedal's lower face.
      const at: Vec3 = [x, s * (root + lz / 2), 0];
      const folded: Vec3 = [x, s * (root + lz / 2), ly / 2 - lz / 2];
      const facts: PedalFacts = { side, centre, half: [lx / 2, ly / 2, lz / 2] };
      return {
        mass: rangeTimes(folds ? range(0.35, 0.45, 0.55) : range(0.25, 0.35, 0.45), 0.5),
        shapes: [turned ? box(`pedal_${side}`, folded, [lx, lz, ly]) : box(`pedal_${side}`, centre, [lx, ly, lz])],
        pedal: folds ? { ...facts, pivot: { at, axis: [s, 0, 0], angle: Math.PI / 2 } } : facts,
      };
    },
  };
}

/** A chain or belt runs from `at` (crank) by `run` to the rear hub; two straight runs, thickness included. */
function loop(name: string, label: string, mass: [number, number, number], radius: number): PartDefinition {
  return {
    kind: 'chain',
    group: 'drive',
    label,
    at: 'centre of the bottom bracket',
    names: [name],
    read: plain(name),
    parameters: {
      run: { kind: 'vector', fallback: [-0.4, 0, 0], meaning: 'from crank to rear hub', context: 'drive_run' },
      ring: count(46, 'teeth of the chainring', 'ring'),
      sprocket: count(16, 'teeth of the rear sprocket', 'sprocket'),
      chainline: length(0.043, 'chain to the mid-plane'),
      drawn: { kind: 'flag', fallback: true, meaning: 'counts in the clearance check' },
    },
    build(v) {
      const run = v.vec('run');
      const c = Math.sqrt(run[0] * run[0] + run[2] * run[2]);
      const r1 = pitchRadius(v.num('ring'));
      const r2 = pitchRadius(v.num('sprocket'));
      // Outer tangents of the two pitch circles: the tangent's normal leans by asin((r1 − r2)/c) from the centre line's.
      const sine = Math.max(-1, Math.min(1, (r1 - r2) / c));
      const cosine = Math.sqrt(1 - sine * sine);
      const [ux, uz] = [run[0] / c, run[2] / c];
      const y = -v.num('chainline');
      const runs = [1, -1].map((k): [Vec3, Vec3] => {
        const nx = sine * ux - k * cosine * uz;
        const nz = sine * uz + k * cosine * ux;
        return [
          [r1 * nx, y, r1 * nz],
          [run[0] + r2 * nx, y, run[2] + r2 * nz],
        ];
      });
      return {
        mass: range(...mass),
        shapes: v.flag('drawn') ? runs.map((r, i) => capsule(i ? `${name}_b` : `${name}_a`, ...r, radius)) : [],
        lumps: runs.map((r) => rodMass(0.5, ...r)),
      };
    },
  };
}

export const DRIVE_PARTS: readonly PartDefinition[] = [
  crankset,
  pedal('pedal flat', 'One flat pedal', false),
  pedal('pedal folding', 'One folding pedal', true),
  loop('chain', 'Chain', [0.25, 0.275, 0.3], CHAIN_RADIUS),
  loop('belt', 'Belt', [0.08, 0.09, 0.1], 0.007),
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Chain tensioner',
    at: 'its pivot',
    names: ['chain tensioner'],
    read: plain('chain tensioner'),
    fasteners: 1,
    parameters: {},
    build: () => ({
      mass: range(0.1, 0.15, 0.22),
      shapes: [capsule('tensioner', [0, -0.043, 0], [0, -0.043, -0.08], 0.022)],
    }),
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Rear derailleur',
    at: 'centre of the rear hub',
    names: ['derailleur rear'],
    read: plain('derailleur rear'),
    fasteners: 2,
    adjustments: 1,
    parameters: {},
    build: () => ({
      mass: range(0.22, 0.28, 0.35),
      shapes: [capsule('derailleur', [0.01, -0.065, -0.03], [0.03, -0.065, -0.12], 0.025)],
    }),
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Chain guard',
    at: 'centre of the bottom bracket',
    names: ['chain guard'],
    read: plain('chain guard'),
    fasteners: 2,
    parameters: { radius: length(0.105, 'outer radius round the chainring'), chainline: length(0.043, 'to mid-plane') },
    build: (v) => ({
      mass: range(0.08, 0.14, 0.25),
      shapes: [disc('chain_guard', [0, -v.num('chainline') - 0.008, 0], v.num('radius'), 0.004)],
    }),
  },
  {
    kind: 'bearing',
    group: 'drive',
    label: 'Bottom bracket',
    at: 'its centre',
    names: ['bottom bracket'],
    read: plain('bottom bracket'),
    fasteners: 2,
    parameters: { width: length(0.068, 'shell width') },
    build: (v) => ({
      mass: range(0.22, 0.28, 0.35),
      shapes: [
        capsule('bottom_bracket', [0, 0.021 - v.num('width') / 2, 0], [0, v.num('width') / 2 - 0.021, 0], 0.021),
      ],
    }),
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Geared hub motor 250 W, beyond the plain hub that it replaces',
    at: 'centre of the hub',
    names: ['hub motor'],
    read: plain('hub motor'),
    fasteners: 2,
    parameters: {
      radius: length(0.07, 'outer radius of its shell'),
      width: length(0.1, 'width of its shell'),
    },
    build: (v) => ({
      mass: range(1.2, 1.9, 2.7),
      shapes: [disc('hub_motor', [0, 0, 0], v.num('radius'), v.num('width') / 2)],
      motor: 'hub',
    }),
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Mid-drive motor with its bottom bracket, 250 W',
    at: 'centre of the bottom bracket',
    names: ['mid drive'],
    read: plain('mid drive'),
    fasteners: 4,
    parameters: {
      width: length(0.068, 'width over its bearings'),
      // Ahead of and below the spindle, between the cranks; sizes from memory.
      size: { kind: 'size', fallback: [0.14, 0.066, 0.12], meaning: 'box of its housing' },
      offset: { kind: 'vector', fallback: [0.05, 0, -0.02], meaning: 'centre of the housing from the bottom bracket' },
    },
    build(v) {
      const housing = box('housing', v.vec('offset'), v.vec('size'));
      const spindle: [Vec3, Vec3] = [
        [0, 0.021 - v.num('width') / 2, 0],
        [0, v.num('width') / 2 - 0.021, 0],
      ];
      return {
        mass: range(2.6, 3.3, 4.2),
        shapes: [capsule('bracket', ...spindle, 0.021), housing],
        // The bracket's share is that of a plain one; the rest is in the housing.
        lumps: [rodMass(0.28, ...spindle, 0.021), boxMass(3.02, v.vec('size'), v.vec('offset'))],
        motor: 'cranks',
      };
    },
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Battery',
    at: 'its centre',
    names: ['battery 160', 'battery 250', 'battery 360'],
    read: sized('battery', 'energy', 1),
    handActions: 1,
    parameters: {
      energy: count(250, 'energy in Wh'),
      size: { kind: 'size', fallback: [0.3, 0.09, 0.09], meaning: 'box' },
    },
    build(v) {
      // Complete packs hold 150-200 Wh/kg, from memory.
      const e = v.num('energy');
      return { mass: range(e / 200, e / 172, e / 150), shapes: [box('battery', [0, 0, 0], v.vec('size'))], energy: e };
    },
  },
  {
    kind: 'fitting',
    group: 'drive',
    label: 'Controller, sensors, display and loom of an electric drive',
    at: 'centre of the controller',
    names: ['motor controller'],
    read: plain('motor controller'),
    fasteners: 4,
    parameters: { size: { kind: 'size', fallback: [0.09, 0.05, 0.03], meaning: 'box of the controller' } },
    // Controller 0.15 to 0.4 kg, display, sensors and loom 0.25 to 0.5 kg; from memory.
    build: (v) => ({ mass: range(0.4, 0.6, 0.9), shapes: [box('motor_controller', [0, 0, 0], v.vec('size'))] }),
  },
];
