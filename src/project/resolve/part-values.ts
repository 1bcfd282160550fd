/**
 * The values with which a candidate overrides a part: checked against the part's parameters, kept as slots.
 *
 * Own parts of parts.yaml stand between the built-in part and the candidate: `like` names the built-in, the other fields
 * override it.
 */

import type { Overrides, Parameter, ParameterValue, PartSpec } from '../data/part-types.ts';
import { findPart, partNames, partParameters } from '../data/parts.ts';
import { nearestName } from '../nearest.ts';
import { type Amount, isYes } from '../schema/values.ts';
import type { Path } from '../text.ts';
import { DIMENSION, type Dimension } from '../units.ts';
import { unknown } from './names.ts';
import { note, type Reader, readAmount, shareUnit } from './reader.ts';

/** Values that are known at once, and values that stand in slots (one, or three for sizes and directions). */
export interface PartValues {
  readonly fixed: Overrides;
  readonly slots: Readonly<Record<string, readonly number[]>>;
}
export interface OwnPart {
  readonly like: string;
  readonly values: Overrides;
}
export type OwnParts = ReadonlyMap<string, OwnPart>;

/** Fields of an entry under `parts` that are not parameters of the part. */
const PLACE_FIELDS = ['part', 'name', 'body', 'at', 'like', 'price', 'note'];
const DIMENSIONS: Record<Exclude<Parameter['kind'], 'side' | 'flag'>, Dimension> = {
  length: DIMENSION.length,
  size: DIMENSION.length,
  vector: DIMENSION.length,
  mass: DIMENSION.mass,
  count: DIMENSION.number,
  direction: DIMENSION.number,
  angle: DIMENSION.angle,
};

/** The built-in part behind a name, with the overrides of parts.yaml; undefined with a problem when there is none. */
export function partBehind(reader: Reader, path: Path, id: string, own: OwnParts): OwnPart | undefined {
  const mine = own.get(id);
  if (mine) return mine;
  if (partParameters(id)) return { like: id, values: {} };
  unknown(reader, path, id, [...own.keys(), ...partNames()], 'part', 'part.unknown');
  return undefined;
}

export function readPartValues(
  reader: Reader,
  path: Path,
  id: string,
  entry: Readonly<Record<string, unknown>>,
): PartValues {
  const parameters = partParameters(id) ?? {};
  const fixed: Record<string, ParameterValue> = {};
  const slots: Record<string, readonly number[]> = {};
  for (const [field, raw] of Object.entries(entry)) {
    if (PLACE_FIELDS.includes(field)) continue;
    const parameter = Object.hasOwn(parameters, field) ? parameters[field] : undefined;
    const at = [...path, field];
    if (!parameter) {
      const known = [...Object.keys(parameters), ...PLACE_FIELDS.slice(1, 4)];
      const near = nearestName(field, known);
      note(reader, at, 'key', 'key.unknown', `the part \`${id}\` has no field \`${field}\``, {
        found: field,
        expected: `one of ${known.join(', ')}`,
        ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
      });
      continue;
    }
    const read = readValue(reader, at, parameter, raw);
    if (read === undefined) continue;
    if (Array.isArray(read)) slots[field] = read;
    else fixed[field] = read as ParameterValue;
  }
  return { fixed, slots };
}

function readValue(
  reader: Reader,
  path: Path,
  parameter: Parameter,
  raw: unknown,
): ParameterValue | number[] | undefined {
  const wrong = (expected: string): undefined => {
    note(reader, path, 'value', 'type.wrong', `${path.at(-1)} (${parameter.meaning}) cannot be that`, { expected });
  };
  const isAmount = (value: unknown): value is Amount => typeof value === 'number' || typeof value === 'string';
  switch (parameter.kind) {
    case 'side':
      return raw === 'left' || raw === 'right' ? raw : wrong('left or right');
    case 'flag':
      return typeof raw === 'boolean' || raw === 'yes' || raw === 'no' ? isYes(raw) : wrong('yes or no');
    case 'size':
    case 'vector':
    case 'direction': {
      if (!Array.isArray(raw) || raw.length !== 3 || !raw.every(isAmount)) return wrong('three numbers [x, y, z]');
      const dimension = DIMENSIONS[parameter.kind];
      return shareUnit(raw).map((item, k) => readAmount(reader, [...path, k], item, dimension));
    }
    default:
      if (!isAmount(raw)) return wrong('one number');
      return [readAmount(reader, path, raw, DIMENSIONS[parameter.kind])];
  }
}

/** The overrides as numbers, for one state of the slots. */
export function valuesNow(values: PartValues, v: Float64Array): Overrides {
  const now: Record<string, ParameterValue> = { ...values.fixed };
  for (const [field, slots] of Object.entries(values.slots))
    now[field] = slots.length === 3 ? [v[slots[0]!]!, v[slots[1]!]!, v[slots[2]!]!] : v[slots[0]!]!;
  return now;
}

/** The part with these values, or in words why there can be none: a negative size, a hub that outweighs its wheel. */
export function buildPart(id: string, values: Overrides): PartSpec | string {
  try {
    return findPart(id, values) ?? `there is no part ${id}`;
  } catch (error) {
    // The solids of the kernel refuse impossible sizes with a RangeError; anything else is our own fault.
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}
