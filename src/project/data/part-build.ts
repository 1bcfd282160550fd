/** Small builders that the part tables share: parameters, shapes, ranges, names with a size in them. */
import type { Vec3 } from '#kernel';
import type { MassRange, Overrides, Parameter, PartDefinition, PartShape } from './part-types.ts';

export const Y: Vec3 = [0, 1, 0];
export const WORLD_AXES: readonly [Vec3, Vec3, Vec3] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

export const range = (low: number, typical: number, high: number): MassRange => ({ low, typical, high });
export const rangeTimes = (r: MassRange, k: number): MassRange => range(r.low * k, r.typical * k, r.high * k);

/** Straight-line interpolation between knots [x, range], held constant beyond the ends. */
export function rangeBetween(knots: readonly (readonly [number, MassRange])[], x: number): MassRange {
  const first = knots[0]!;
  if (x <= first[0]) return first[1];
  for (let i = 1; i < knots.length; i++) {
    const [x0, a] = knots[i - 1]!;
    const [x1, b] = knots[i]!;
    if (x <= x1) {
      const f = (x - x0) / (x1 - x0);
      const mix = (p: number, q: number): number => p + f * (q - p);
      return range(mix(a.low, b.low), mix(a.typical, b.typical), mix(a.high, b.high));
    }
  }
  return knots.at(-1)![1];
}

export const length = (fallback: number, meaning: string, context?: Parameter['context']): Parameter =>
  context ? { kind: 'length', fallback, meaning, context } : { kind: 'length', fallback, meaning };
export const count = (fallback: number, meaning: string, context?: Parameter['context']): Parameter =>
  context ? { kind: 'count', fallback, meaning, context } : { kind: 'count', fallback, meaning };
export const size = (fallback: Vec3, meaning: string): Parameter => ({ kind: 'size', fallback, meaning });
export const direction = (fallback: Vec3, meaning: string): Parameter => ({ kind: 'direction', fallback, meaning });

export const capsule = (name: string, from: Vec3, to: Vec3, radius: number): PartShape => ({
  kind: 'capsule',
  name,
  from,
  to,
  radius,
});
export const disc = (name: string, centre: Vec3, radius: number, halfThickness: number): PartShape => ({
  kind: 'disc',
  name,
  centre,
  normal: Y,
  radius,
  halfThickness,
});
export const box = (name: string, centre: Vec3, edges: Vec3, axes = WORLD_AXES): PartShape => ({
  kind: 'box',
  name,
  centre,
  axes,
  half: [edges[0] / 2, edges[1] / 2, edges[2] / 2],
});

/** Reads a fixed name. */
export const plain =
  (name: string): PartDefinition['read'] =>
  (id) =>
    id === name ? {} : undefined;

/** Reads `name`, or `name SIZE` where SIZE (times `unit`) is the value of a parameter. */
export const sized =
  (name: string, parameter: string, unit = 0.001, suffix = ''): PartDefinition['read'] =>
  (id): Overrides | undefined => {
    if (id === name) return {};
    if (!id.startsWith(name + ' ')) return undefined;
    const match = /^(\d+(?:\.\d+)?)(?: ?([a-z]+))?$/.exec(id.slice(name.length + 1));
    if (!match || (match[2] ?? suffix) !== suffix) return undefined;
    return { [parameter]: Number(match[1]) * unit };
  };
