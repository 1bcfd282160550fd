/**
 * Units of project files: what each is worth in SI, its dimension, and words for both.
 *
 * A unit is one or more symbols joined by `.` and `/`, each with an optional whole exponent: `kN.m/rad`, `N/mm`,
 * `kg.m2`. Factors stand before the first `/`, so that no text can be read in two ways. Values of the units: SI
 * Brochure, 9th edition (BIPM 2019), tables 2, 4 and 8; 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
 * Torque and energy share a dimension; angle has one of its own, so that degrees cannot pass for plain numbers.
 * Not here: temperatures and other units with an offset, currencies other than EUR, prefixes as a rule of their own.
 */

/** Exponents of length, mass, time, angle and money. */
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
  area: [2, 0, 0, 0, 0],
  volume: [3, 0, 0, 0, 0],
  secondMoment: [4, 0, 0, 0, 0],
  mass: [0, 1, 0, 0, 0],
  time: [0, 0, 1, 0, 0],
  angle: [0, 0, 0, 1, 0],
  money: [0, 0, 0, 0, 1],
  frequency: [0, 0, -1, 0, 0],
  speed: [1, 0, -1, 0, 0],
  acceleration: [1, 0, -2, 0, 0],
  force: [1, 1, -2, 0, 0],
  torque: [2, 1, -2, 0, 0],
  energy: [2, 1, -2, 0, 0],
  power: [2, 1, -3, 0, 0],
  pressure: [-1, 1, -2, 0, 0],
  density: [-3, 1, 0, 0, 0],
  inertia: [2, 1, 0, 0, 0],
  stiffness: [0, 1, -2, 0, 0],
  rotationalStiffness: [2, 1, -2, -1, 0],
} as const satisfies Record<string, Dimension>;

/** Words for a dimension and the units to offer for it, first the customary one. Of two with one dimension the first is used. */
const WORDS: readonly (readonly [Dimension, string, string])[] = [
  [DIMENSION.number, 'a number without unit', '%'],
  [DIMENSION.length, 'a length', 'mm, cm, m, in'],
  [DIMENSION.area, 'an area', 'mm2, m2'],
  [DIMENSION.volume, 'a volume', 'mm3, m3'],
  [DIMENSION.secondMoment, 'a second moment of area', 'mm4'],
  [DIMENSION.mass, 'a mass', 'kg, g'],
  [DIMENSION.time, 'a time', 's, min, h'],
  [DIMENSION.angle, 'an angle', 'deg, rad'],
  [DIMENSION.money, 'a sum of money', 'EUR'],
  [DIMENSION.frequency, 'turns in a time', 'rpm'],
  [DIMENSION.speed, 'a speed', 'm/s, km/h'],
  [DIMENSION.acceleration, 'an acceleration', 'm/s2'],
  [DIMENSION.force, 'a force', 'N, kN'],
  [DIMENSION.torque, 'a torque or an energy', 'N.m, kN.m, J'],
  [DIMENSION.power, 'a power', 'W'],
  [DIMENSION.pressure, 'a pressure or a stress', 'MPa, GPa, Pa'],
  [DIMENSION.density, 'a density', 'kg/m3'],
  [DIMENSION.inertia, 'a moment of inertia', 'kg.m2'],
  [DIMENSION.stiffness, 'a stiffness', 'N/mm'],
  [DIMENSION.rotationalStiffness, 'a rotational stiffness', 'kN.m/rad, N.m/deg'],
];

const SYMBOLS: ReadonlyMap<string, readonly [factor: number, dimension: Dimension]> = new Map([
  ['mm', [1e-3, DIMENSION.length]],
  ['cm', [1e-2, DIMENSION.length]],
  ['m', [1, DIMENSION.length]],
  ['km', [1e3, DIMENSION.length]],
  ['in', [0.0254, DIMENSION.length]],
  ['deg', [Math.PI / 180, DIMENSION.angle]],
  ['rad', [1, DIMENSION.angle]],
  ['kg', [1, DIMENSION.mass]],
  ['g', [1e-3, DIMENSION.mass]],
  ['N', [1, DIMENSION.force]],
  ['kN', [1e3, DIMENSION.force]],
  ['s', [1, DIMENSION.time]],
  ['min', [60, DIMENSION.time]],
  ['h', [3600, DIMENSION.time]],
  ['rpm', [1 / 60, DIMENSION.frequency]],
  ['Pa', [1, DIMENSION.pressure]],
  ['MPa', [1e6, DIMENSION.pressure]],
  ['GPa', [1e9, DIMENSION.pressure]],
  ['W', [1, DIMENSION.power]],
  ['J', [1, DIMENSION.energy]],
  ['kJ', [1e3, DIMENSION.energy]],
  ['Wh', [3600, DIMENSION.energy]],
  ['%', [1e-2, DIMENSION.number]],
  ['EUR', [1, DIMENSION.money]],
] as const);

const SYMBOL = /^(%|[A-Za-z]+)([1-4]?)$/;

export const unitSymbols = (): readonly string[] => [...SYMBOLS.keys()];
export const sameDimension = (a: Dimension, b: Dimension): boolean => a.every((n, i) => n === b[i]);

/** a·b^k of two dimensions: exponents add. */
export const timesDimension = (a: Dimension, b: Dimension, k = 1): Dimension => [
  a[0] + k * b[0],
  a[1] + k * b[1],
  a[2] + k * b[2],
  a[3] + k * b[3],
  a[4] + k * b[4],
];

/** The unit that a text such as `kN.m/rad` names; undefined when it is none. `1/s` is one too, and `1` is the plain number. */
export function parseUnit(text: string): Unit | undefined {
  if (text.length > 40) return undefined;
  let factor = 1;
  let dimension: Dimension = DIMENSION.number;
  const [over, ...under] = text.split('/');
  const symbols = (over ?? '').split('.').map((symbol) => [symbol, 1] as const);
  for (const [symbol, sign] of [...symbols, ...under.map((symbol) => [symbol, -1] as const)]) {
    if (symbol === '1' && symbols.length === 1 && sign === 1) continue;
    const [, name = '', digits] = SYMBOL.exec(symbol) ?? [];
    const known = SYMBOLS.get(name);
    if (!known) return undefined;
    const exponent = digits ? Number(digits) : 1;
    for (let k = 0; k < exponent; k++) factor = sign > 0 ? factor * known[0] : factor / known[0];
    dimension = timesDimension(dimension, known[1], sign * exponent);
  }
  return { text, factor, dimension };
}

/** So many of a unit in SI. Dividing where the factor is a whole fraction keeps decimals exact: 415 mm is the double 0.415. */
export function inSI(value: number, unit: Unit): number {
  const perSI = 1 / unit.factor;
  return perSI > 1 && Number.isInteger(perSI) ? value / perSI : value * unit.factor;
}

/**
 * A value with its unit as project files write it: `formatQuantity(0.415, 'mm')` is `415 mm`.
 * Twelve significant digits unless told: enough to read back the same bicycle, few enough to hide the last binary digit.
 * @throws RangeError for a unit that is not in the table, or a value that is not finite: our own bug, not the user's.
 */
export function formatQuantity(value_SI: number, unit: string, digits = 12): string {
  const known = parseUnit(unit);
  if (!known) throw new RangeError(`no unit "${unit}"`);
  if (!Number.isFinite(value_SI)) throw new RangeError(`${value_SI} cannot be written in ${unit}`);
  const number = Number((value_SI / known.factor).toPrecision(digits));
  const text = String(number === 0 ? 0 : number);
  return sameDimension(known.dimension, DIMENSION.number) && (unit === '1' || unit === '') ? text : `${text} ${unit}`;
}

const BASE = ['m', 'kg', 's', 'rad', 'EUR'] as const;

/** The dimension in SI symbols, for kinds that have no name: `kg.m3/s2`. */
function inSymbols(dimension: Dimension): string {
  const power = (symbol: string, exponent: number): string => symbol + (exponent === 1 ? '' : exponent);
  const over = BASE.flatMap((symbol, i) => (dimension[i]! > 0 ? [power(symbol, dimension[i]!)] : []));
  const under = BASE.flatMap((symbol, i) => (dimension[i]! < 0 ? [power(symbol, -dimension[i]!)] : []));
  return [over.join('.') || '1', ...under].join('/');
}

/** A dimension in words: `a length`, or `a quantity in kg.m3/s2`. */
export function nameDimension(dimension: Dimension): string {
  const known = WORDS.find(([d]) => sameDimension(d, dimension));
  return known ? known[1] : `a quantity in ${inSymbols(dimension)}`;
}

/** In words with units to choose from: `a length (mm, cm, m, in)`. */
export function describeDimension(dimension: Dimension): string {
  const known = WORDS.find(([d]) => sameDimension(d, dimension));
  return known && known[0] !== DIMENSION.number ? `${known[1]} (${known[2]})` : nameDimension(dimension);
}
