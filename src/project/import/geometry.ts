/**
 * Imported points and lines become stations and tubes.
 *
 * Ends within 0.5 mm are one station: drawings close their corners no better, and no two stations of a bicycle stand
 * nearer. The first point met is the station, and distances are taken to it, so that a row of near points cannot creep.
 * Names are made legal: small letters, digits and `_`, never twice.
 */
import type { Vec3 } from '#kernel';

export const MERGE_M = 0.5e-3;

export interface RawPoint {
  readonly name: string;
  /** m. */
  readonly at: Vec3;
}
export interface RawLine {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly body: string;
  readonly name?: string;
  readonly section?: string;
  readonly material?: string;
}
export interface Geometry {
  readonly stations: ReadonlyMap<string, Vec3>;
  readonly tubes: readonly {
    readonly body: string;
    readonly name: string;
    readonly from: string;
    readonly to: string;
    readonly section: string | undefined;
    readonly material: string | undefined;
  }[];
}

/** Words that a station or body cannot have: the expression language and the program's objects use them. */
const TAKEN: ReadonlySet<string> = new Set(['pi', 'constructor']);
const LONGEST_NAME = 40;

/** A legal name near the given text: `Ober-Rohr 2` becomes `ober_rohr_2`. `fallback` serves where nothing is left. */
export function legalName(text: string, fallback: string): string {
  const letters = text
    .slice(0, 4 * LONGEST_NAME)
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replaceAll('ß', 'ss')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .slice(0, LONGEST_NAME)
    .replace(/^_+|_+$/g, '');
  if (letters === '') return fallback;
  if (/^\d/.test(letters)) return `${fallback}_${letters}`;
  return TAKEN.has(letters) ? `${letters}_1` : letters;
}

/** The name, or the name with the first free number behind it. */
export function freeName(name: string, taken: { has(name: string): boolean }): string {
  if (!taken.has(name)) return name;
  for (let i = 2; ; i++) if (!taken.has(`${name}_${i}`)) return `${name}_${i}`;
}

/** Finds the station at a place; cells of the merging distance, so that a thousand points take a thousand steps. */
class Stations {
  readonly found = new Map<string, Vec3>();
  private readonly cells = new Map<string, string[]>();

  at(p: Vec3): string | undefined {
    const [i, j, k] = cell(p);
    for (let a = i - 1; a <= i + 1; a++)
      for (let b = j - 1; b <= j + 1; b++)
        for (let c = k - 1; c <= k + 1; c++)
          for (const name of this.cells.get(`${a},${b},${c}`) ?? []) {
            const [x, y, z] = this.found.get(name)!;
            const [dx, dy, dz] = [x - p[0], y - p[1], z - p[2]];
            if (dx * dx + dy * dy + dz * dz <= MERGE_M * MERGE_M) return name;
          }
    return undefined;
  }
  add(name: string, p: Vec3): string {
    const free = freeName(name, this.found);
    this.found.set(free, p);
    const key = cell(p).join(',');
    this.cells.set(key, [...(this.cells.get(key) ?? []), free]);
    return free;
  }
}
const cell = (p: Vec3): [number, number, number] => [
  Math.floor(p[0] / MERGE_M),
  Math.floor(p[1] / MERGE_M),
  Math.floor(p[2] / MERGE_M),
];

/** Merges ends and names everything. Named points come first, so that lines take their names. Lines must have a length. */
export function joinUp(points: readonly RawPoint[], lines: readonly RawLine[]): Geometry {
  const stations = new Stations();
  for (const point of points)
    if (stations.at(point.at) === undefined) stations.add(legalName(point.name, 'point'), point.at);
  let count = 0;
  const station = (p: Vec3): string => {
    const known = stations.at(p);
    if (known !== undefined) return known;
    count += 1;
    return stations.add(`p${count}`, p);
  };
  const tubeNames = new Map<string, Set<string>>();
  const tubes = lines.flatMap((line) => {
    const from = station(line.from);
    const to = station(line.to);
    if (from === to) return [];
    const body = legalName(line.body, 'body');
    const taken = tubeNames.get(body) ?? new Set<string>();
    tubeNames.set(body, taken);
    const name = freeName(line.name ? legalName(line.name, 'tube') : `${from}_to_${to}`, taken);
    taken.add(name);
    return [{ body, name, from, to, section: line.section, material: line.material }];
  });
  return { stations: stations.found, tubes };
}
