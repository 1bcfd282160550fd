/** Mudguards, racks, lights, stands, castors, cables, bags. Masses from memory. */
import type { Vec3 } from '#kernel';
import { box, capsule, length, plain, range, size, sized } from './part-build.ts';
import type { MassRange, PartDefinition, PartShape } from './part-types.ts';

/** Angles round the hub, counted from forward over the top to the rear, rad. */
const ARC = { front: [0.25 * Math.PI, 1.05 * Math.PI], rear: [0.25 * Math.PI, 1.05 * Math.PI] } as const;
const GUARD_GAP = 0.012;
const GUARD_SHEET = 0.003;

function mudguard(end: 'front' | 'rear'): PartDefinition {
  return {
    kind: 'mudguard',
    group: 'fittings',
    label: `Mudguard, ${end}, with stays`,
    at: 'centre of the hub',
    names: [`mudguard ${end}`],
    read: plain(`mudguard ${end}`),
    fasteners: 3,
    parameters: {
      wheel_radius: length(0.243, 'outer radius of the tyre', 'wheel_radius'),
      width: length(0.055, 'of the guard'),
      from: { kind: 'angle', fallback: ARC[end][0], meaning: 'front end, angle from forward over the top' },
      to: { kind: 'angle', fallback: ARC[end][1], meaning: 'rear end, angle from forward over the top' },
    },
    build(v) {
      // Four flat boxes whose outer faces touch the guard's outer circle: they contain the arc.
      const outer = v.num('wheel_radius') + GUARD_GAP + GUARD_SHEET;
      const step = (v.num('to') - v.num('from')) / 4;
      const inner = (outer - GUARD_SHEET) * Math.cos(step / 2);
      const shapes: PartShape[] = [];
      for (let i = 0; i < 4; i++) {
        const a = v.num('from') + (i + 0.5) * step;
        const radial: Vec3 = [Math.cos(a), 0, Math.sin(a)];
        const tangent: Vec3 = [-Math.sin(a), 0, Math.cos(a)];
        const mid = (outer + inner) / 2;
        shapes.push(
          box(
            `mudguard_${i + 1}`,
            [mid * radial[0], 0, mid * radial[2]],
            [2 * outer * Math.tan(step / 2), v.num('width'), outer - inner],
            [tangent, [0, 1, 0], radial],
          ),
        );
      }
      return { mass: range(0.125, 0.18, 0.25), shapes };
    },
  };
}

function boxed(
  kind: PartDefinition['kind'],
  name: string,
  label: string,
  at: string,
  mass: MassRange,
  edges: Vec3,
  centre: Vec3,
  extra: Partial<PartDefinition> = {},
): PartDefinition {
  return {
    kind,
    group: 'fittings',
    label,
    at,
    names: [name],
    read: plain(name),
    ...extra,
    parameters: { size: size(edges, 'box'), offset: { kind: 'vector', fallback: centre, meaning: 'centre from `at`' } },
    build: (v) => ({ mass, shapes: [box(name.replaceAll(' ', '_'), v.vec('offset'), v.vec('size'))] }),
  };
}

export const FITTING_PARTS: readonly PartDefinition[] = [
  mudguard('front'),
  mudguard('rear'),
  boxed(
    'rack',
    'rack front',
    'Front carrier',
    'where the bag sits',
    range(0.3, 0.5, 0.8),
    [0.08, 0.24, 0.16],
    [0, 0, 0],
    {
      fasteners: 4,
    },
  ),
  boxed(
    'rack',
    'rack rear',
    'Rear carrier',
    'middle of its platform',
    range(0.4, 0.6, 0.9),
    [0.3, 0.12, 0.02],
    [0, 0, 0],
    {
      fasteners: 4,
    },
  ),
  boxed(
    'fitting',
    'light set',
    'Lights, bell and reflectors',
    'front lamp',
    range(0.1, 0.2, 0.35),
    [0.05, 0.05, 0.05],
    [0, 0, 0],
    {
      fasteners: 3,
    },
  ),
  boxed(
    'fitting',
    'hub dynamo',
    'Hub dynamo, beyond the plain hub',
    'centre of the hub',
    range(0.2, 0.35, 0.55),
    [0.07, 0.06, 0.07],
    [0, 0, 0],
    {
      fasteners: 0,
    },
  ),
  boxed('fitting', 'lock', 'Carried lock', 'its centre', range(0.4, 0.9, 1.5), [0.16, 0.06, 0.1], [0, 0, 0]),
  {
    kind: 'fitting',
    group: 'fittings',
    label: 'Kickstand, folded up',
    at: 'its pivot',
    names: ['kickstand'],
    read: plain('kickstand'),
    fasteners: 2,
    parameters: { length: length(0.25, 'leg') },
    build: (v) => ({
      mass: range(0.3, 0.4, 0.55),
      shapes: [capsule('kickstand', [0, 0.04, 0], [-v.num('length'), 0.06, 0.02], 0.009)],
    }),
  },
  {
    kind: 'castor',
    group: 'fittings',
    label: 'Small castor for the folded bicycle',
    at: 'centre of the castor wheel',
    names: ['castor 40', 'castor 60'],
    read: sized('castor', 'diameter'),
    fasteners: 1,
    parameters: { diameter: length(0.04, 'of the wheel'), width: length(0.018, 'of the wheel') },
    build: (v) => ({
      mass: range(0.05, 0.09, 0.15),
      shapes: [
        {
          kind: 'disc',
          name: 'castor',
          centre: [0, 0, 0],
          normal: [0, 1, 0],
          radius: v.num('diameter') / 2,
          halfThickness: v.num('width') / 2,
        },
      ],
    }),
  },
  {
    kind: 'fitting',
    group: 'fittings',
    label: 'Cables and housings',
    at: 'about their middle',
    names: ['cables'],
    read: plain('cables'),
    parameters: {},
    build: () => ({ mass: range(0.15, 0.22, 0.3), shapes: [] }),
  },
  {
    kind: 'fitting',
    group: 'fittings',
    label: 'Catch or magnet that keeps the package together',
    at: 'its centre',
    names: ['catch'],
    read: plain('catch'),
    fasteners: 2,
    handActions: 1,
    parameters: {},
    build: () => ({ mass: range(0.03, 0.06, 0.12), shapes: [box('catch', [0, 0, 0], [0.03, 0.03, 0.03])] }),
  },
  {
    kind: 'bag',
    group: 'luggage',
    label: 'Bag with its contents',
    at: 'where it hangs: its centre',
    names: ['bag 6 kg', 'bag 3 kg'],
    read: sized('bag', 'mass', 1, 'kg'),
    parameters: { size: size([0.18, 0.34, 0.28], 'box') },
    build: (v) => ({ mass: range(6, 6, 6), shapes: [box('bag', [0, 0, 0], v.vec('size'))] }),
  },
];
