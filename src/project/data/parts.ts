/**
 * The built-in parts: find one by name, override its values, get geometry and mass relative to its point.
 *
 * Every part accepts `mass`: it replaces the range by the given figure ± 5 % (catalogue masses, rectangular; from
 * memory) and scales the inertia. Ranges are read as rectangular: sigma = (high − low)/√12.
 */
import { boxMass, combine, discMass, type RigidMass, rodMass } from '#kernel';
import type {
  MassRange,
  Overrides,
  Parameter,
  ParameterValue,
  PartDefinition,
  PartShape,
  PartSpec,
  Values,
} from './part-types.ts';
import { DRIVE_PARTS } from './parts-drive.ts';
import { FITTING_PARTS } from './parts-fittings.ts';
import { RIDER_PARTS } from './parts-rider.ts';
import { WHEEL_PARTS } from './parts-wheels.ts';

export const PART_DEFINITIONS: readonly PartDefinition[] = [
  ...WHEEL_PARTS,
  ...DRIVE_PARTS,
  ...RIDER_PARTS,
  ...FITTING_PARTS,
];
export const FROM_MEMORY = 'default, from memory';
const CATALOGUE = 0.05;
const MASS: Parameter = { kind: 'mass', fallback: Number.NaN, meaning: 'replaces the default mass' };

/** Names of all built-in parts, for hints. Wheels and other sized parts take any size; the list holds examples. */
export const partNames = (): readonly string[] => PART_DEFINITIONS.flatMap((d) => d.names);

/** The parameters that a named part takes, `mass` included; undefined when there is no such part. */
export function partParameters(id: string): Readonly<Record<string, Parameter>> | undefined {
  const d = definition(id)?.definition;
  return d && { ...d.parameters, mass: MASS };
}

/**
 * The part of that name with overrides (SI; keys of `partParameters`), or undefined when there is none.
 * Unknown keys and values of the wrong type are the caller's to refuse; here they are ignored.
 */
export function findPart(id: string, overrides: Overrides = {}): PartSpec | undefined {
  const found = definition(id);
  if (!found) return undefined;
  const { definition: d, named } = found;
  const given: Overrides = { ...named, ...overrides };
  const built = d.build(values(d, given));
  const own = given['mass'];
  const mass = typeof own === 'number' ? aroundCatalogue(own) : built.mass;
  const raw = combine(built.lumps ?? built.shapes.map(solid));
  const rigid = scaledTo(raw, mass.typical);
  // A wheel's facts follow an overridden mass, as its inertia does.
  const wheel = built.wheel && { ...built.wheel, polar: rigid.inertia[1], diametral: rigid.inertia[0] };
  return {
    id,
    kind: d.kind,
    group: d.group,
    label: d.label,
    at: d.at,
    mass,
    massSpread: mass.typical > 0 ? (mass.high - mass.low) / Math.sqrt(12) / mass.typical : 0,
    source: typeof own === 'number' ? 'given' : FROM_MEMORY,
    rigid,
    shapes: built.shapes,
    fasteners: d.fasteners ?? 0,
    handActions: d.handActions ?? 0,
    adjustments: d.adjustments ?? 0,
    parameters: { ...d.parameters, mass: MASS },
    ...(wheel && { wheel }),
    ...(built.crank && { crank: built.crank }),
    ...(built.pedal && { pedal: built.pedal }),
    ...(built.grips && { grips: built.grips }),
    ...(built.hubGears !== undefined && { hubGears: built.hubGears }),
    ...(built.motor && { motor: built.motor }),
    ...(built.energy !== undefined && { energy: built.energy }),
  };
}

function definition(id: string): { definition: PartDefinition; named: Overrides } | undefined {
  for (const d of PART_DEFINITIONS) {
    const named = d.read(id);
    if (named) return { definition: d, named };
  }
  return undefined;
}

function values(d: PartDefinition, given: Overrides): Values {
  const get = (name: string): ParameterValue => {
    const p = d.parameters[name];
    if (!p) throw new Error(`part ${d.label} has no parameter ${name}`);
    const own = given[name];
    return own !== undefined && typeof own === typeof p.fallback ? own : p.fallback;
  };
  return {
    num: (name) => get(name) as number,
    vec: (name) => get(name) as [number, number, number],
    side: () => get('side') as 'left' | 'right',
    flag: (name) => get(name) as boolean,
  };
}

const aroundCatalogue = (m: number): MassRange => ({ low: m * (1 - CATALOGUE), typical: m, high: m * (1 + CATALOGUE) });

/** Same distribution, other mass. A part without lumps or shapes is a point at `at`. */
function scaledTo(raw: RigidMass, mass: number): RigidMass {
  if (!(raw.mass > 0)) return { mass, com: [0, 0, 0], inertia: [0, 0, 0, 0, 0, 0] };
  const k = mass / raw.mass;
  const [xx, yy, zz, xy, xz, yz] = raw.inertia;
  return { mass, com: raw.com, inertia: [k * xx, k * yy, k * zz, k * xy, k * xz, k * yz] };
}

/** A shape as a solid of unit density. */
function solid(shape: PartShape): RigidMass {
  switch (shape.kind) {
    case 'capsule': {
      const d = [0, 1, 2].map((k) => shape.to[k]! - shape.from[k]!);
      const l = Math.sqrt(d[0]! * d[0]! + d[1]! * d[1]! + d[2]! * d[2]!);
      return rodMass(Math.PI * shape.radius * shape.radius * l, shape.from, shape.to, shape.radius);
    }
    case 'disc':
      return discMass(
        2 * Math.PI * shape.radius * shape.radius * shape.halfThickness,
        shape.radius,
        2 * shape.halfThickness,
        shape.centre,
        shape.normal,
      );
    case 'box': {
      const [a, b, c] = shape.half;
      return boxMass(8 * a * b * c, [2 * a, 2 * b, 2 * c], shape.centre, shape.axes);
    }
  }
}
