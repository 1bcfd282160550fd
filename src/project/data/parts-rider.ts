/** Saddles, seat posts, handlebars, stems, bar posts, headsets, brakes: what the rider touches. Masses from memory. */
import { rodMass, type Vec3 } from '#kernel';
import { box, capsule, direction, length, plain, range, rangeBetween, sized } from './part-build.ts';
import type { MassRange, PartDefinition } from './part-types.ts';

/** Down a tube that leans back by 72° from the ground, from memory: forward and down. */
const DOWN_72: Vec3 = [0.3090169943749474, 0, -0.9510565162951535];
const along = (p: Vec3, d: Vec3, l: number): Vec3 => {
  const n = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
  return [p[0] + (d[0] / n) * l, p[1] + (d[1] / n) * l, p[2] + (d[2] / n) * l];
};

function saddle(name: string, label: string, mass: MassRange, l: number, w: number): PartDefinition {
  return {
    kind: 'saddle',
    group: 'seat',
    label,
    at: "centre of the saddle's top",
    names: [name],
    read: plain(name),
    fasteners: 2,
    adjustments: 1,
    parameters: {
      length: length(l, 'nose to tail'),
      width: length(w, 'at the widest'),
      depth: length(0.06, 'top to rails'),
    },
    build(v) {
      const half = v.num('length') / 2;
      const depth = v.num('depth');
      const nose = 0.022;
      return {
        mass,
        shapes: [
          box('saddle', [-half / 2, 0, -depth / 2], [half, v.num('width'), depth]),
          capsule('saddle_nose', [0, 0, -nose], [half - nose, 0, -nose], nose),
        ],
      };
    },
  };
}

function handlebar(name: string, label: string, rise: number, sweep: number): PartDefinition {
  return {
    kind: 'handlebar',
    group: 'steering',
    label,
    at: 'centre of the bar where it is clamped',
    names: [`${name} 540`, `${name} 580`],
    read: sized(name, 'width'),
    fasteners: 2,
    parameters: {
      width: length(0.56, 'over the ends'),
      rise: length(rise, 'grips above the clamp'),
      sweep: length(sweep, 'grips behind the clamp'),
      grip_length: length(0.125, 'one grip'),
      diameter: length(0.0254, 'of the tube where it is clamped'),
      levers: {
        kind: 'flag',
        fallback: true,
        meaning: 'the envelope includes brake levers (their mass is the part `brake lever`)',
      },
    },
    build(v) {
      const half = v.num('width') / 2;
      const inner = Math.max(half - v.num('grip_length'), 0);
      const [x, z] = [-v.num('sweep'), v.num('rise')];
      const bar = v.num('diameter') / 2;
      const grip = 0.017;
      const ends = (s: number): [Vec3, Vec3] => [
        [x, s * inner, z],
        [x, s * (half - grip), z],
      ];
      const straight = x === 0 && z === 0;
      const lever = (s: number): [Vec3, Vec3] => [
        [x + 0.02, s * (inner - 0.015), z - 0.01],
        [x + 0.055, s * Math.min(inner + 0.085, half), z - 0.035],
      ];
      return {
        mass: range(0.23, 0.33, 0.5), // bar 0.15-0.22-0.35 and grips 0.08-0.11-0.15
        shapes: [
          ...(straight
            ? [capsule('bar', [0, -inner, 0], [0, inner, 0], bar)]
            : [
                capsule('bar_left', [0, 0, 0], [x, inner, z], bar),
                capsule('bar_right', [0, 0, 0], [x, -inner, z], bar),
              ]),
          capsule('grip_left', ...ends(1), grip),
          capsule('grip_right', ...ends(-1), grip),
          ...(v.flag('levers')
            ? [capsule('lever_left', ...lever(1), 0.009), capsule('lever_right', ...lever(-1), 0.009)]
            : []),
        ],
        lumps: [
          rodMass(0.11, [0, 0, 0], [x, half, z], bar),
          rodMass(0.11, [0, 0, 0], [x, -half, z], bar),
          rodMass(0.055, ...ends(1), grip),
          rodMass(0.055, ...ends(-1), grip),
        ],
        grips: { left: [x, (inner + half) / 2, z], right: [x, -(inner + half) / 2, z] },
      };
    },
  };
}

/** A straight post or stem that runs from `at` along `axis`. */
function post(
  d: Pick<PartDefinition, 'kind' | 'group' | 'label' | 'at' | 'names' | 'read'> & {
    mass: (l: number) => MassRange;
    l: number;
    diameter: number;
    drop?: number;
    axis?: Vec3;
    fasteners: number;
    handActions?: number;
    adjustments?: number;
  },
): PartDefinition {
  return {
    ...d,
    parameters: {
      length: length(d.l, 'along its axis'),
      diameter: length(d.diameter, 'outside'),
      axis: direction(d.axis ?? DOWN_72, 'from `at` towards the far end'),
      drop: length(d.drop ?? 0, 'straight down from `at` to where it starts'),
    },
    build(v) {
      const from: Vec3 = [0, 0, -v.num('drop')];
      const to = along(from, v.vec('axis'), v.num('length'));
      const r = v.num('diameter') / 2;
      return {
        mass: d.mass(v.num('length')),
        shapes: [capsule(d.kind, from, to, r)],
        lumps: [rodMass(1, from, to, r)],
      };
    },
  };
}

/** Length → aluminium seat post: short 0.22-0.30, 550-600 mm 0.45-0.65 kg. */
const SEAT_POST: readonly (readonly [number, MassRange])[] = [
  [0.3, range(0.22, 0.26, 0.3)],
  [0.575, range(0.45, 0.55, 0.65)],
];

export const RIDER_PARTS: readonly PartDefinition[] = [
  saddle('saddle city', 'City saddle', range(0.25, 0.36, 0.5), 0.265, 0.18),
  saddle('saddle sport', 'Slim saddle', range(0.22, 0.28, 0.36), 0.275, 0.145),
  post({
    kind: 'seat_post',
    group: 'seat',
    label: 'Aluminium seat post with saddle clamp',
    at: "centre of the saddle's top",
    names: ['seat post 31.8', 'seat post 33.9', 'seat post 27.2'],
    read: sized('seat post', 'diameter'),
    mass: (l) => rangeBetween(SEAT_POST, l),
    l: 0.55,
    diameter: 0.0318,
    drop: 0.06,
    fasteners: 1,
    adjustments: 1,
  }),
  handlebar('handlebar flat', 'Flat handlebar with grips', 0, 0),
  handlebar('handlebar riser', 'Raised handlebar with grips', 0.04, 0.02),
  handlebar('handlebar swept', 'Swept-back city handlebar with grips', 0.03, 0.12),
  post({
    kind: 'stem',
    group: 'steering',
    label: 'Fixed stem',
    at: 'centre of the bar where it is clamped',
    names: ['stem'],
    read: sized('stem', 'length'),
    mass: () => range(0.11, 0.15, 0.2),
    l: 0.06,
    diameter: 0.036,
    axis: [-1, 0, 0],
    fasteners: 5,
  }),
  post({
    kind: 'bar_post',
    group: 'steering',
    label: 'Folding bar post with its joint',
    at: 'centre of the bar where it is clamped',
    names: ['bar post', 'bar post 300'],
    read: sized('bar post', 'length'),
    mass: () => range(0.6, 0.85, 1.1),
    l: 0.3,
    diameter: 0.036,
    fasteners: 4,
    handActions: 2,
  }),
  {
    kind: 'bearing',
    group: 'steering',
    label: 'Headset',
    at: 'middle of the head tube',
    names: ['headset'],
    read: plain('headset'),
    fasteners: 1,
    parameters: { axis: direction(DOWN_72, 'steering axis'), length: length(0.12, 'head tube') },
    build(v) {
      const h = v.num('length') / 2;
      return {
        mass: range(0.09, 0.12, 0.15),
        shapes: [],
        lumps: [rodMass(1, along([0, 0, 0], v.vec('axis'), h), along([0, 0, 0], v.vec('axis'), -h), 0.018)],
      };
    },
  },
  {
    kind: 'brake',
    group: 'brakes',
    label: 'Rim brake of one wheel',
    at: 'top of the rim in the wheel plane',
    names: ['brake rim'],
    read: plain('brake rim'),
    fasteners: 1,
    adjustments: 1,
    parameters: { size: { kind: 'size', fallback: [0.05, 0.1, 0.09], meaning: 'box' } },
    build: (v) => ({ mass: range(0.17, 0.2, 0.24), shapes: [box('brake', [0, 0, 0.02], v.vec('size'))] }),
  },
  {
    kind: 'brake',
    group: 'brakes',
    label: 'Mechanical disc brake of one wheel: caliper, rotor',
    at: 'centre of the hub',
    names: ['brake disc'],
    read: plain('brake disc'),
    fasteners: 8,
    adjustments: 1,
    parameters: {},
    build: () => ({
      mass: range(0.3, 0.35, 0.42),
      shapes: [box('caliper', [-0.06, 0.06, 0.05], [0.06, 0.05, 0.06])],
    }),
  },
  {
    kind: 'brake',
    group: 'brakes',
    label: 'One brake lever',
    at: 'centre of the bar where it is clamped',
    names: ['brake lever'],
    read: plain('brake lever'),
    fasteners: 1,
    parameters: {
      side: { kind: 'side', fallback: 'left', meaning: 'left, or right' },
      out: length(0.15, 'lever clamp from the mid-plane'),
    },
    build(v) {
      const s = v.side() === 'left' ? 1 : -1;
      const y = s * v.num('out');
      return {
        mass: range(0.05, 0.075, 0.1),
        shapes: [],
        lumps: [rodMass(1, [0.02, y, 0], [0.05, y + s * 0.09, -0.03])],
      };
    },
  },
];
