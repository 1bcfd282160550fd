/**
 * Dimensions and stations: named numbers and named points, in the order in which they depend on one another.
 *
 * A dimension may use other dimensions and station coordinates; a station may use both. A station made from others
 * (`from` + `by`, `between`) becomes three steps. `grip_right` is the mirror of `grip_left` where it is not given.
 */
import { orderByDependency, parseExpression, references } from '../expression.ts';
import { nearestName } from '../nearest.ts';
import type { CandidateData, PointData } from '../schema/candidate-schema.ts';
import type { Amount } from '../schema/values.ts';
import type { Path } from '../text.ts';
import { DIMENSION, type Dimension } from '../units.ts';
import { define, reserve } from './program.ts';
import { note, type Reader, readAmount, readInto, type Symbols, shareUnit, unitOf } from './reader.ts';

export interface Points {
  readonly names: string[];
  readonly index: Map<string, number>;
  /** Three slots per station. */
  readonly slots: number[];
  readonly paths: Path[];
}
const AXES = ['x', 'y', 'z'] as const;

export function readDimensionsAndStations(
  reader: Reader,
  symbols: Symbols,
  data: Pick<CandidateData, 'dimensions' | 'stations'>,
): { points: Points; dimensions: string[]; free: number[] } {
  const points: Points = { names: [], index: new Map(), slots: [], paths: [] };
  const dimensions = Object.keys(data.dimensions ?? {});
  const work = new Map<string, { needs: string[]; run: () => void }>();

  for (const name of dimensions) {
    const raw = data.dimensions![name]!;
    const path = ['dimensions', name];
    const slot = reserve(reader.program, { path, dimension: DIMENSION.number, unit: '', text: String(raw), reads: [] });
    work.set(name, {
      needs: needsOf(raw),
      run: () => {
        const dimension = readInto(reader, slot, path, raw, undefined) ?? guess;
        reader.program.slots[slot] = {
          ...reader.program.slots[slot]!,
          dimension,
          unit: unitOf(String(raw), dimension),
        };
        symbols.set(name, { slot, dimension });
      },
    });
  }
  const places: [string, PointData, Path][] = Object.entries(data.stations).map(([name, point]) => [
    name,
    point,
    ['stations', name],
  ]);
  for (const [name, , path] of places) declare(reader, points, name, path);
  for (const [name, point, path] of places) {
    const slots = slotsOf(points, points.index.get(name)!);
    plan(reader, points, point, path, slots).forEach((step, k) => {
      work.set(`${name}.${AXES[k]}`, {
        needs: step.needs,
        run: () => {
          step.run();
          symbols.set(`${name}.${AXES[k]}`, { slot: slots[k]!, dimension: DIMENSION.length });
        },
      });
    });
  }
  const { order, cycles } = orderByDependency([...work].map(([name, w]) => ({ name, needs: w.needs })));
  for (const name of order) work.get(name)?.run();
  reportCycles(reader, points, cycles, work, order, symbols);
  if (!points.index.has('grip_right') && points.index.has('grip_left')) mirror(reader, points);
  const free = dimensions.flatMap((_, i) => (reader.program.slots[i]!.reads.length === 0 ? [i] : []));
  return { points, dimensions, free };
}

export const slotsOf = (points: Points, station: number): [number, number, number] => [
  points.slots[3 * station]!,
  points.slots[3 * station + 1]!,
  points.slots[3 * station + 2]!,
];

/** A point that has no name of its own, such as a tube's corner; it gets one that no file can use. */
export function readPoint(reader: Reader, points: Points, name: string, point: PointData, path: Path): number {
  const station = declare(reader, points, name, path);
  for (const step of plan(reader, points, point, path, slotsOf(points, station))) step.run();
  return station;
}

/** Index of a station by name; -1 with a problem when there is none. */
export function stationAt(reader: Reader, points: Points, name: string, path: Path): number {
  const found = points.index.get(name);
  if (found !== undefined) return found;
  const near = nearestName(name, points.index.keys());
  note(reader, path, 'value', 'station.missing', `there is no station \`${name}\``, {
    found: name,
    expected: 'the name of a station',
    hint: near ? `did you mean \`${near}\`?` : `add \`${name}\` under stations`,
  });
  return -1;
}

function declare(reader: Reader, points: Points, name: string, path: Path): number {
  const station = points.names.push(name) - 1;
  points.index.set(name, station);
  points.paths.push(path);
  for (let k = 0; k < 3; k++)
    points.slots.push(
      reserve(reader.program, { path: [...path, k], dimension: DIMENSION.length, unit: 'mm', text: '', reads: [] }),
    );
  return station;
}

interface Step {
  readonly needs: string[];
  readonly run: () => void;
}
/** Three steps, one per coordinate. */
function plan(reader: Reader, points: Points, point: PointData, path: Path, slots: readonly number[]): Step[] {
  const { program } = reader;
  if (Array.isArray(point)) {
    const raw = shareUnit(point as Amount[]);
    return raw.map((item, k) => ({
      needs: needsOf(item),
      run: () => {
        program.slots[slots[k]!] = {
          ...program.slots[slots[k]!]!,
          text: String(item),
          unit: unitOf(String(item), DIMENSION.length),
        };
        readInto(reader, slots[k]!, [...path, k], item, DIMENSION.length);
      },
    }));
  }
  if ('from' in point) {
    const raw = shareUnit(point.by as Amount[]);
    let from: number | undefined;
    return AXES.map((axis, k) => ({
      needs: [`${point.from}.${axis}`, ...needsOf(raw[k]!)],
      run: () => {
        from ??= stationAt(reader, points, point.from, [...path, 'from']);
        const by = readAmount(reader, [...path, 'by', k], raw[k]!, DIMENSION.length);
        const start = from < 0 ? -1 : points.slots[3 * from + k]!;
        if (start < 0) reader.broken.add(slots[k]!);
        else define(program, slots[k]!, (v) => v[start]! + v[by]!, [start, by]);
      },
    }));
  }
  const between = point as { between: [string, string]; at: Amount };
  let found: { a: number; b: number; t: number } | undefined;
  return AXES.map((axis, k) => ({
    needs: [...between.between.map((name) => `${name}.${axis}`), ...needsOf(between.at)],
    run: () => {
      found ??= {
        a: stationAt(reader, points, between.between[0], [...path, 'between', 0]),
        b: stationAt(reader, points, between.between[1], [...path, 'between', 1]),
        t: readAmount(reader, [...path, 'at'], between.at, DIMENSION.number),
      };
      const { a, b, t } = found;
      if (a < 0 || b < 0) {
        reader.broken.add(slots[k]!);
        return;
      }
      const pa = points.slots[3 * a + k]!;
      const pb = points.slots[3 * b + k]!;
      define(program, slots[k]!, (v) => v[pa]! + v[t]! * (v[pb]! - v[pa]!), [pa, pb, t]);
    },
  }));
}

function needsOf(raw: Amount): string[] {
  const { node } = parseExpression(raw);
  return node ? references(node) : [];
}

function mirror(reader: Reader, points: Points): void {
  const left = slotsOf(points, points.index.get('grip_left')!);
  const right = slotsOf(points, declare(reader, points, 'grip_right', ['stations', 'grip_left']));
  define(reader.program, right[0], (v) => v[left[0]]!, [left[0]]);
  define(reader.program, right[1], (v) => -v[left[1]]!, [left[1]]);
  define(reader.program, right[2], (v) => v[left[2]]!, [left[2]]);
}

/** Reports each cycle once; what stands behind a cycle is marked broken but not reported again. */
function reportCycles(
  reader: Reader,
  points: Points,
  cycles: readonly string[][],
  work: ReadonlyMap<string, unknown>,
  order: readonly string[],
  symbols: Symbols,
): void {
  const reported = new Set<string>();
  for (const cycle of cycles) {
    // x, y and z of the same two stations are one mistake, not three.
    const key = [...new Set(cycle.map((name) => name.split('.')[0]!))].sort().join(' ');
    if (reported.has(key)) continue;
    reported.add(key);
    const [first] = cycle;
    const [owner, axis] = first!.split('.');
    const path: Path = axis ? ['stations', owner!] : ['dimensions', owner!];
    note(reader, path, 'value', 'expression.cycle', `these depend on one another: ${cycle.join(' → ')}`, {
      found: cycle.join(' → '),
      hint: `give one of them a plain number, for instance \`${owner}\``,
    });
  }
  const done = new Set(order);
  for (const name of work.keys()) {
    if (done.has(name)) continue;
    const [owner, axis] = name.split('.');
    const station = points.index.get(owner!);
    if (axis && station !== undefined) {
      const slot = points.slots[3 * station + AXES.indexOf(axis as 'x')]!;
      reader.broken.add(slot);
      symbols.set(name, { slot, dimension: DIMENSION.length });
    } else {
      const slot = reader.program.slots.findIndex((s) => s.path[0] === 'dimensions' && s.path[1] === name);
      reader.broken.add(slot);
      symbols.set(name, { slot, dimension: guess });
    }
  }
}
/** Stands in for the dimension of a number that could not be read; the slot is broken, so nothing checks against it. */
const guess: Dimension = DIMENSION.length;
