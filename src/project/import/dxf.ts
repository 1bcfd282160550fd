/**
 * Points and lines from DXF: LINE, LWPOLYLINE, POLYLINE and POINT, read by the library dxf-parser.
 *
 * Planes: a flat drawing is a side view (x → x, y → z) unless told; one with heights is taken as it stands in space.
 * Layers become bodies. Units from the header variable $INSUNITS (1 in, 2 ft, 4 mm, 5 cm, 6 m in the format's public
 * reference, from memory); without it millimetres, with a caution. A scan of the group codes goes first: it counts what
 * the library skips silently, knows the lines, and refuses vertex counts that would keep the library busy for ever.
 * Not here: arcs, splines, blocks, coordinate systems tilted in space; a polyline's arcs become straight lines.
 */
/// <reference path="../dxf-parser.d.ts" />
import DxfParser, { type DxfEntity } from 'dxf-parser/dist/dxf-parser.js';
import type { Vec3 } from '#kernel';
import { type Read, type RowProblem, tooShort } from './csv.ts';
import type { RawLine, RawPoint } from './geometry.ts';

/** How a drawing's x and y lie in the bicycle: `side` x forward and z up, `top` x forward and y left, `space` as drawn. */
export type Plane = 'side' | 'top' | 'space';

const UNITS: ReadonlyMap<number, number> = new Map([
  [1, 0.0254],
  [2, 0.3048],
  [4, 1e-3],
  [5, 1e-2],
  [6, 1],
]);
const READ = ['LINE', 'LWPOLYLINE', 'POLYLINE', 'POINT'];
const INNER = ['VERTEX', 'SEQEND'];

/** Group codes for which the library has a type; it prints a warning for every other one. */
const TYPED: readonly (readonly [number, number])[] = [
  [0, 109],
  [110, 149],
  [160, 179],
  [210, 239],
  [270, 289],
  [290, 481],
  [999, 1071],
];

interface Scan {
  /** The text without pairs of other group codes. */
  readonly text: string;
  /** Entities of kinds that are read, in order, with their lines. */
  readonly lines: readonly number[];
  readonly skipped: ReadonlyMap<string, { readonly count: number; readonly line: number }>;
  readonly refused: RowProblem | undefined;
}

/** Pairs of group code and value: entities of the ENTITIES section, and counts that cannot be. */
function scan(source: string): Scan {
  const rows = source.split(/\r\n|\r|\n/);
  const kept: string[] = [];
  const lines: number[] = [];
  const skipped = new Map<string, { count: number; line: number }>();
  let inside = false;
  let entity = '';
  let claim: { count: number; line: number } | undefined;
  let corners = 0;
  for (let i = 0; i + 1 < rows.length; i += 2) {
    const code = rows[i]!.trim();
    const value = rows[i + 1]!.trim();
    if (!/^-?\d{1,5}$/.test(code)) {
      const message = `a group code is a whole number, not "${code.slice(0, 20)}"`;
      return { text: '', lines, skipped, refused: { code: 'import.row', severity: 'error', line: i + 1, message } };
    }
    if (TYPED.some(([from, to]) => Number(code) >= from && Number(code) <= to)) kept.push(code, rows[i + 1]!);
    if (code === '2' && entity === 'SECTION') inside = value === 'ENTITIES';
    if (code === '0') {
      if (claim && !(claim.count > 0 && claim.count <= corners)) {
        const message = `a polyline claims ${String(claim.count).slice(0, 20)} corners and has ${corners}`;
        return {
          text: '',
          lines,
          skipped,
          refused: { code: 'import.row', severity: 'error', line: claim.line, message },
        };
      }
      claim = undefined;
      corners = 0;
      entity = value;
      if (value === 'ENDSEC') inside = false;
      else if (inside && READ.includes(value)) lines.push(i + 2);
      else if (inside && !INNER.includes(value)) {
        const before = skipped.get(value);
        skipped.set(value.slice(0, 40), { count: (before?.count ?? 0) + 1, line: before?.line ?? i + 2 });
      }
    }
    if (entity === 'LWPOLYLINE') {
      if (code === '90') claim = { count: Number(value), line: i + 2 };
      if (code === '10') corners += 1;
    }
  }
  return { text: kept.join('\n'), lines, skipped, refused: undefined };
}

/** True when the entity's own axes are mirrored (extrusion 0, 0, -1); undefined when they are tilted. */
function mirrored(entity: DxfEntity): boolean | undefined {
  const d = entity.extrusionDirection;
  const x = d?.x ?? entity.extrusionDirectionX ?? 0;
  const y = d?.y ?? entity.extrusionDirectionY ?? 0;
  const z = d?.z ?? entity.extrusionDirectionZ ?? 1;
  return Math.abs(x) > 1e-6 || Math.abs(y) > 1e-6 ? undefined : z < 0;
}

export function readDxf(source: string, options: { plane?: Plane; unit_m?: number } = {}): Read & { plane: Plane } {
  const problems: RowProblem[] = [];
  const report = (
    code: RowProblem['code'],
    severity: 'error' | 'caution',
    line: number,
    message: string,
    hint?: string,
  ): void => {
    problems.push({ code, severity, line, message, ...(hint ? { hint } : {}) });
  };
  const nothing = { points: [], lines: [], problems, plane: options.plane ?? ('side' as const) };
  const seen = scan(source);
  if (seen.refused) {
    problems.push(seen.refused);
    return nothing;
  }
  let parsed: ReturnType<DxfParser['parseSync']>;
  try {
    parsed = new DxfParser().parseSync(seen.text);
  } catch (error) {
    report(
      'import.empty',
      'error',
      1,
      `the file cannot be read as DXF: ${String((error as Error).message).slice(0, 200)}`,
    );
    return nothing;
  }
  for (const [type, { count, line }] of seen.skipped)
    report(
      'import.entity',
      'caution',
      line,
      `${count} of type ${type} ${count === 1 ? 'is' : 'are'} left out`,
      'draw centre lines as lines or polylines',
    );

  const declared = parsed?.header?.['$INSUNITS'];
  const known = typeof declared === 'number' ? UNITS.get(declared) : undefined;
  const unit = options.unit_m ?? known ?? 1e-3;
  if (options.unit_m === undefined && known === undefined) {
    const none = declared === undefined || declared === 0;
    const message = none
      ? 'the drawing does not name its unit: millimetres are taken'
      : `the drawing's unit (code ${declared}) is not known: millimetres are taken`;
    report('import.unit', 'caution', 1, message, 'set the unit in the drawing, or name it when importing');
  }

  const entities = (parsed?.entities ?? []).filter((e) => READ.includes(e.type));
  const flat = (e: DxfEntity): boolean => [...(e.vertices ?? []), e.position ?? {}].every((v) => !v.z) && !e.elevation;
  const plane = options.plane ?? (entities.every(flat) ? 'side' : 'space');
  const points: RawPoint[] = [];
  const lines: RawLine[] = [];
  for (const [i, entity] of entities.entries()) {
    const line = seen.lines[i] ?? 1;
    const flips = entity.type === 'LINE' || entity.type === 'POINT' || entity.is3dPolyline ? false : mirrored(entity);
    if (flips === undefined) {
      report(
        'import.entity',
        'caution',
        line,
        'an entity in tilted axes is left out',
        'draw it in the plane of the sheet',
      );
      continue;
    }
    if (entity.is3dPolygonMesh || entity.isPolyfaceMesh) {
      report('import.entity', 'caution', line, 'a mesh is left out', 'draw centre lines as lines or polylines');
      continue;
    }
    const place = (v: { x?: number; y?: number; z?: number } | undefined): Vec3 | undefined => {
      const x = (flips ? -1 : 1) * (v?.x ?? Number.NaN) * unit;
      const y = (v?.y ?? Number.NaN) * unit;
      const z = (flips ? -1 : 1) * (v?.z ?? entity.elevation ?? 0) * unit;
      if (![x, y, z].every((n) => Number.isFinite(n) && Math.abs(n) <= 100)) return undefined;
      return plane === 'side' ? [x, 0, y] : plane === 'top' ? [x, y, 0] : [x, y, z];
    };
    const body = entity.layer === undefined || entity.layer === '0' ? 'frame' : entity.layer;
    if (entity.type === 'POINT') {
      const at = place(entity.position);
      if (at) points.push({ name: 'point', at });
      else report('import.row', 'caution', line, 'a point without finite coordinates is left out');
      continue;
    }
    const corners = (entity.vertices ?? []).map(place);
    if (entity.shape && corners.length > 2) corners.push(corners[0]);
    if (entity.vertices?.some((v) => v.bulge))
      report(
        'import.entity',
        'caution',
        line,
        'arcs of a polyline become straight lines',
        'give the tube `via` points and a bend radius',
      );
    if (corners.length < 2) report('import.row', 'caution', line, 'a line without two ends is left out');
    for (let k = 1; k < corners.length; k++) {
      const from = corners[k - 1];
      const to = corners[k];
      if (!from || !to) report('import.row', 'caution', line, 'a line without finite coordinates is left out');
      else if (tooShort(from, to)) report('import.row', 'caution', line, 'a line without length is left out');
      else lines.push({ from, to, body });
    }
  }
  return { points, lines, problems, plane };
}
