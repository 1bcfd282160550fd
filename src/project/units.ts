/** Units of project files: parsing, dimensions, words. Signatures first; the table follows. */

/** Exponents of length, mass, time, angle and money. Angle is a dimension of its own so that degrees cannot pass for numbers. */
export type Dimension = readonly [length: number, mass: number, time: number, angle: number, money: number];
export interface Unit {
  readonly text: string;
  /** SI value of one such unit. */
  readonly factor: number;
  readonly dimension: Dimension;
}
export const DIMENSION = {
  number: [0, 0, 0, 0, 0],
  length: [1, 0, 0, 0, 0],
  mass: [0, 1, 0, 0, 0],
  time: [0, 0, 1, 0, 0],
  angle: [0, 0, 0, 1, 0],
  money: [0, 0, 0, 0, 1],
  speed: [1, 0, -1, 0, 0],
  force: [1, 1, -2, 0, 0],
  torque: [2, 1, -2, 0, 0],
  energy: [2, 1, -2, 0, 0],
  power: [2, 1, -3, 0, 0],
  pressure: [-1, 1, -2, 0, 0],
  density: [-3, 1, 0, 0, 0],
  volume: [3, 0, 0, 0, 0],
  inertia: [2, 1, 0, 0, 0],
  stiffness: [0, 1, -2, 0, 0],
  rotationalStiffness: [2, 1, -2, -1, 0],
} as const satisfies Record<string, Dimension>;
export const sameDimension = (a: Dimension, b: Dimension): boolean => a.every((n, i) => n === b[i]);
/** The unit that a text such as `kN.m/rad` names; undefined when it is none. */
export declare function parseUnit(text: string): Unit | undefined;
/** `formatQuantity(0.415, 'mm')` → `415 mm`. */
export declare function formatQuantity(value: number, unit: string): string;
/** In words with examples of units: `a length (mm, cm, m, in)`. */
export declare function describeDimension(dimension: Dimension): string;
