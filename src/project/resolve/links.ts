/** Drive, cables and exclusions: what ties bodies together without being a joint. */
import { type Cable, type Drive, type DriveMotor, type Gearing, HUB_RATIOS } from '#kernel';
import type { CandidateData } from '../schema/candidate-schema.ts';
import { isYes } from '../schema/values.ts';
import { DIMENSION } from '../units.ts';
import { bodyIndex, type Draft, type ShapeDraft } from './draft.ts';
import { shapeNames } from './fold.ts';
import { lookUp, unknown } from './names.ts';
import type { PartDraft } from './parts.ts';
import { stationAt } from './points.ts';
import { amountOr, amountOrNone, note } from './reader.ts';

/** Spare length and least bend radius of a cable that the file does not give: default, from memory. */
const SLACK = 0.03;
const MIN_BEND = 0.04;

export function readDrive(draft: Draft, data: CandidateData, parts: readonly PartDraft[], crankBody: number): Drive {
  const { reader, points } = draft;
  const d = data.drive ?? { kind: 'none' as const };
  const at = (field: 'from' | 'to' | 'at', usual: string): number => {
    const name = d[field];
    return name === undefined ? (points.index.get(usual) ?? -1) : stationAt(reader, points, name, ['drive', field]);
  };
  const crankset = parts.find((p) => p.spec.crank);
  const hub = d.kind === 'hub_motor' ? at('at', 'rear_hub') : at('to', 'rear_hub');
  const carrier = parts.find((p) => p.spec.wheel && p.station === hub);
  if (d.kind !== 'none' && hub >= 0 && !carrier && !reader.lost.has('wheel'))
    note(
      reader,
      ['drive'],
      'value',
      'role.missing',
      `the drive ends at ${points.names[hub]}, where there is no wheel`,
      {
        expected: 'a part `wheel …` at that station',
      },
    );
  const pulls = d.kind === 'chain' || d.kind === 'belt';
  if (pulls && !crankset && !reader.lost.has('crankset'))
    note(reader, ['drive'], 'value', 'role.missing', `a ${d.kind} needs a crankset, and there is none`, {
      expected: '{part: crankset 165, body: ..., at: crank} under parts',
    });
  return {
    kind: d.kind,
    fromBody: pulls ? crankBody : -1,
    toBody: carrier?.body ?? -1,
    fromStation: pulls ? at('from', 'crank') : -1,
    toStation: d.kind === 'none' ? -1 : hub,
    side: d.side === 'left' ? 1 : -1,
    ring: crankset?.facts['ring'] ?? -1,
    sprocket: crankset?.facts['sprocket'] ?? -1,
    releasable: isYes(d.releasable),
    ...(pulls ? { gearing: readGearing(draft, d, parts) } : {}),
    ...readMotor(draft, d, parts),
  };
}

type DriveData = NonNullable<CandidateData['drive']>;

/** Pitch of a belt that the file does not give, m: default, from memory. */
const BELT_PITCH = 0.011;

function readGearing(draft: Draft, d: DriveData, parts: readonly PartDraft[]): Gearing {
  const { reader } = draft;
  const hub = parts.find((p) => p.spec.kind === 'hub_gear');
  const hubGears = hub?.spec.hubGears ?? 0;
  const length = (field: 'hub_line' | 'adjust' | 'tensioner'): number =>
    amountOrNone(reader, ['drive', field], d[field], DIMENSION.length);
  return {
    sprockets: d.sprockets ?? [],
    ratios: d.ratios ?? HUB_RATIOS.get(hub ? hubGears : 1) ?? [],
    hubGears,
    pitches: d.links ?? -1,
    chainline: parts.find((p) => p.spec.crank)?.facts['chainline'] ?? -1,
    hubLine: length('hub_line'),
    beltPitch: amountOr(reader, ['drive', 'belt_pitch'], d.belt_pitch, DIMENSION.length, BELT_PITCH),
    adjust: length('adjust'),
    tensioner: length('tensioner'),
  };
}

/** Figures of a motor that the file does not give: what EN 15194 allows, and a middle setting; from memory. */
const MOTOR = { power: 250, assistsTo: 25 / 3.6, walksAt: 0, assist: 1, volts: 36 } as const;

function readMotor(draft: Draft, d: DriveData, parts: readonly PartDraft[]): { motor?: DriveMotor } {
  const { reader } = draft;
  const part = parts.find((p) => p.spec.motor);
  if (d.motor && !part && !reader.lost.has('hub') && !reader.lost.has('mid'))
    note(
      reader,
      ['drive', 'motor'],
      'key',
      'role.missing',
      'the drive has a motor, and there is none among the parts',
      {
        expected: '{part: hub motor, body: ..., at: rear_hub} or {part: mid drive, body: ..., at: crank}',
      },
    );
  if (!part) return {};
  const { power, assists_to, walks_at, assist, volts, throttle } = d.motor ?? {};
  const path = (field: string) => ['drive', 'motor', field];
  const only = d.kind === 'hub_motor' || d.kind === 'none';
  return {
    motor: {
      place: part.spec.motor!,
      body: part.body,
      station: part.station,
      power: amountOr(reader, path('power'), power, DIMENSION.power, MOTOR.power),
      assistsTo: amountOr(reader, path('assists_to'), assists_to, DIMENSION.speed, MOTOR.assistsTo),
      walksAt: amountOr(reader, path('walks_at'), walks_at, DIMENSION.speed, MOTOR.walksAt),
      assist: amountOr(reader, path('assist'), assist, DIMENSION.number, MOTOR.assist),
      volts: volts ?? MOTOR.volts,
      throttle: throttle === undefined ? only : isYes(throttle),
      batteries: parts.flatMap((p) => (p.spec.energy === undefined ? [] : [p.facts['energy']!])),
    },
  };
}

export function readCables(draft: Draft, data: CandidateData): Cable[] {
  const { reader, points, bodies } = draft;
  return (data.cables ?? []).map((cable, i) => {
    const path = ['cables', i];
    const stops = cable.along.map(([body, station], k) => ({
      body: lookUp(reader, [...path, 'along', k, 0], body, bodies, 'body'),
      station: stationAt(reader, points, station, [...path, 'along', k, 1]),
    }));
    const stationBody = stops.map((s) => s.body);
    return {
      name: cable.name,
      bodies: stationBody.filter((b, k) => k === 0 || b !== stationBody[k - 1]),
      stations: stops.map((s) => s.station),
      stationBody,
      slack: amountOr(reader, [...path, 'slack'], cable.slack, DIMENSION.length, SLACK),
      minBend: amountOr(reader, [...path, 'min_bend'], cable.min_bend, DIMENSION.length, MIN_BEND),
    };
  });
}

export interface Exclusion {
  readonly a: ReadonlySet<number>;
  readonly b: ReadonlySet<number>;
  readonly because: string;
}
export function readExclusions(draft: Draft, data: CandidateData, shapes: readonly ShapeDraft[]): Exclusion[] {
  return (data.exclude ?? []).map((entry, i) => {
    const [a, b] = entry.between.map((name, k) => {
      const body = bodyIndex(draft, name);
      const found = shapes.flatMap((s, n) => ((body >= 0 ? s.body === body : s.groups.includes(name)) ? [n] : []));
      if (body < 0 && found.length === 0)
        unknown(
          draft.reader,
          ['exclude', i, 'between', k],
          name,
          [...draft.bodies, ...shapeNames(shapes)],
          'body or shape',
        );
      return new Set(found);
    }) as [Set<number>, Set<number>];
    return { a, b, because: entry.because };
  });
}
