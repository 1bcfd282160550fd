/**
 * The brief as typed numbers in SI, each with the place where it stands.
 *
 * A brief has no dimensions: its numbers are plain, or arithmetic on plain ones. Limits of demands and wishes carry the
 * dimension that they were written in; whether it fits the quantity, and whether the quantity exists, is checked where the
 * quantities are known.
 */
import type { FitKey, PublicId, SexPublic } from '#kernel';
import { type BriefLoads, readLoads } from './brief-loads.ts';
import { readJourney, readPublic } from './brief-people.ts';
import { atLeastZero, type Ctx, type Given, given, positive, say } from './brief-reader.ts';
import type { Problem } from './problems.ts';
import { shareUnit } from './resolve/reader.ts';
import { type BriefData, briefSchema, type SpaceData } from './schema/brief-schema.ts';
import { checkStructure } from './schema/check-structure.ts';
import type { Amount } from './schema/values.ts';
import type { Path, SourceDocument, Span } from './text.ts';
import { DIMENSION, type Dimension, sameDimension } from './units.ts';

export type { Given } from './brief-reader.ts';

export interface Demand {
  readonly quantity: string;
  readonly atMost?: Given;
  readonly atLeast?: Given;
  readonly because: string;
  readonly path: Path;
  readonly span: Span;
}
export interface Wish {
  readonly quantity: string;
  readonly best: Given;
  readonly worst: Given;
  readonly weight: number;
  readonly because: string;
  readonly path: Path;
  readonly span: Span;
}
interface SpaceBase {
  readonly name: string;
  readonly because: string;
  readonly path: Path;
}
export interface OpeningSpace extends SpaceBase {
  readonly kind: 'opening';
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  readonly margin: number;
  readonly lies: 'flat' | 'upright' | 'any';
  /** The chain's side must face up. */
  readonly chainSideUp: boolean;
}
export interface BoxSpace extends SpaceBase {
  readonly kind: 'box';
  readonly size: readonly [number, number, number];
  readonly margin: number;
  readonly lies: 'flat' | 'upright' | 'any';
  /** The chain's side must face up. */
  readonly chainSideUp: boolean;
}
export interface StandSpace extends SpaceBase {
  readonly kind: 'stand';
  readonly footprint: readonly [number, number];
  /** NaN where the brief does not limit it. */
  readonly height: number;
  readonly slope: number;
  /** In g. */
  readonly jerk: number;
}
export type Space = OpeningSpace | BoxSpace | StandSpace;
export type Sex = 'female' | 'male' | 'mixed';
/** Whose strength counts: anybody at home, or adults at work. */
export type Hands = 'anybody' | 'workers';
/** SI throughout; NaN where the brief says nothing and there is no default. */
export interface Brief {
  readonly name: string;
  readonly note: string;
  readonly file: string;
  readonly riders: {
    readonly shortest: number;
    readonly tallest: number;
    readonly heaviest: number;
    readonly usual: { readonly stature: number; readonly mass: number; readonly sex: Sex };
    /** Share of women. */
    readonly women: number;
    readonly public: PublicId;
    /** The named public with the brief's own figures in place. */
    readonly female: SexPublic;
    readonly male: SexPublic;
    /** How many riders are drawn, and which. */
    readonly sample: number;
    readonly seed: number;
    readonly hands: Hands;
    /** Limits of fit that the brief sets itself, SI. */
    readonly limits: Readonly<Partial<Record<FitKey, number>>>;
  };
  readonly luggage: { readonly mass: number; readonly at: string } | undefined;
  readonly trip: {
    readonly stairs: number;
    /** Slopes as rise over run. */
    readonly climb: number;
    readonly descent: number;
    readonly speed: number;
    /** Ridden, and of that on the steepest street up; m. */
    readonly distance: number;
    readonly climbLength: number;
    /** Rolled folded, carried on the level; m. */
    readonly roll: number;
    readonly carry: number;
    /** Rise of one step, m; steps from one rest to the next, Infinity: all in one go. */
    readonly step: number;
    readonly rest: number;
    readonly lifts: readonly { readonly name: string; readonly height: number }[];
  };
  readonly loads: BriefLoads;
  readonly spaces: readonly Space[];
  readonly reference: string | undefined;
  readonly demands: readonly Demand[];
  readonly wishes: readonly Wish[];
  readonly market: { readonly volume: number; readonly price: number; readonly region: string };
  readonly stakes: { readonly prototype: number; readonly days: number };
  /** Share by which the weights are varied. */
  readonly weightsSweep: number;
  where(path: Path, what?: 'key' | 'value'): Span;
}

/** Used where the brief is silent; defaults, from memory: an adult public and a usual rider of mixed sex. */
const DEFAULTS = {
  shortest: 1.5,
  tallest: 1.95,
  heaviest: 110,
  stature: 1.72,
  mass: 75,
  sweep: 0.3,
  speed: 5,
} as const;

export function readBrief(document: SourceDocument): { brief?: Brief; problems: Problem[] } {
  const { data, problems } = checkStructure(briefSchema, document);
  if (!data) return { problems };
  const ctx: Ctx = { document, problems };
  const brief = build(ctx, data);
  return ctx.problems.some((p) => p.severity === 'error') ? { problems } : { brief, problems };
}

function build(ctx: Ctx, data: BriefData): Brief {
  const { document } = ctx;
  const num = (path: Path, raw: Amount | undefined, dimension: Dimension, fallback: number): number =>
    raw === undefined ? fallback : given(ctx, path, raw, dimension).value;
  const r = data.riders;
  const riders = {
    shortest: num(['riders', 'shortest'], r?.shortest, DIMENSION.length, DEFAULTS.shortest),
    tallest: num(['riders', 'tallest'], r?.tallest, DIMENSION.length, DEFAULTS.tallest),
    heaviest: num(['riders', 'heaviest'], r?.heaviest, DIMENSION.mass, DEFAULTS.heaviest),
    usual: {
      stature: num(['riders', 'usual', 'stature'], r?.usual?.stature, DIMENSION.length, DEFAULTS.stature),
      mass: num(['riders', 'usual', 'mass'], r?.usual?.mass, DIMENSION.mass, DEFAULTS.mass),
      sex: r?.usual?.sex ?? ('mixed' as const),
    },
    ...readPublic(ctx, r),
  };
  checkRiders(ctx, riders);
  const t = data.trip;
  const usedNames = new Map<string, number>();
  const brief: Brief = {
    name: data.brief,
    note: data.note ?? '',
    file: document.file,
    riders,
    luggage: data.luggage && {
      mass: atLeastZero(ctx, ['luggage', 'mass'], num(['luggage', 'mass'], data.luggage.mass, DIMENSION.mass, 0)),
      at: data.luggage.at,
    },
    trip: {
      stairs: atLeastZero(ctx, ['trip', 'stairs'], num(['trip', 'stairs'], t?.stairs, DIMENSION.number, 0)),
      climb: atLeastZero(ctx, ['trip', 'climb'], num(['trip', 'climb'], t?.climb, DIMENSION.number, 0)),
      descent: atLeastZero(ctx, ['trip', 'descent'], num(['trip', 'descent'], t?.descent, DIMENSION.number, 0)),
      speed: positive(ctx, ['trip', 'speed'], num(['trip', 'speed'], t?.speed, DIMENSION.speed, DEFAULTS.speed)),
      ...readJourney(ctx, t),
    },
    loads: readLoads(
      {
        number: (path, raw, dimension) => given(ctx, path, raw, dimension).value,
        outOfRange: (path, message, expected, found) => say(ctx, path, 'value.range', message, { expected, found }),
      },
      data.loads,
    ),
    spaces: Object.entries(data.spaces ?? {}).map(([name, space]) => readSpace(ctx, name, space)),
    reference: data.reference,
    demands: (data.demands ?? []).flatMap((d, i) => readDemand(ctx, d, ['demands', i], usedNames)),
    wishes: (data.wishes ?? []).flatMap((w, i) => readWish(ctx, w, ['wishes', i])),
    market: {
      volume: num(['market', 'volume'], data.market?.volume, DIMENSION.number, Number.NaN),
      price: num(['market', 'price'], data.market?.price, DIMENSION.money, Number.NaN),
      region: data.market?.region ?? '',
    },
    stakes: {
      prototype: num(['stakes', 'prototype'], data.stakes?.prototype, DIMENSION.money, Number.NaN),
      days: num(['stakes', 'days'], data.stakes?.days, DIMENSION.number, Number.NaN),
    },
    weightsSweep: num(['weights_sweep'], data.weights_sweep, DIMENSION.number, DEFAULTS.sweep),
    where: (path, what) => document.where(path, what),
  };
  if (!(brief.weightsSweep >= 0 && brief.weightsSweep < 1))
    say(ctx, ['weights_sweep'], 'value.range', 'weights_sweep is a share of each weight', {
      expected: '0 % to below 100 %',
    });
  return brief;
}

/** Statures and masses outside these are a slip of the unit, not a rider; from memory. */
const STATURE = [0.8, 2.5] as const;
const MASS = [15, 300] as const;
function checkRiders(ctx: Ctx, riders: Brief['riders']): void {
  const within = (path: Path, value: number, [low, high]: readonly [number, number], unit: string) => {
    if (value < low || value > high)
      say(ctx, path, 'value.range', `${path.join('.')} is not a rider's`, {
        found: `${value} ${unit}`,
        expected: `${low} to ${high} ${unit}`,
      });
  };
  within(['riders', 'shortest'], riders.shortest, STATURE, 'm');
  within(['riders', 'tallest'], riders.tallest, STATURE, 'm');
  within(['riders', 'usual', 'stature'], riders.usual.stature, STATURE, 'm');
  within(['riders', 'heaviest'], riders.heaviest, MASS, 'kg');
  within(['riders', 'usual', 'mass'], riders.usual.mass, MASS, 'kg');
  if (riders.shortest > riders.tallest)
    say(ctx, ['riders', 'shortest'], 'value.range', 'the shortest rider is taller than the tallest', {
      expected: `at most ${riders.tallest} m`,
    });
}

function readSpace(ctx: Ctx, name: string, space: SpaceData): Space {
  const path = ['spaces', name];
  const one = (field: string, raw: Amount | undefined, dimension: Dimension, fallback: number): number =>
    raw === undefined ? fallback : given(ctx, [...path, field], raw, dimension).value;
  const list = (field: string, raw: readonly Amount[]): number[] =>
    shareUnit(raw).map((item, k) =>
      positive(ctx, [...path, field, k], given(ctx, [...path, field, k], item, DIMENSION.length).value),
    );
  const base = { name, because: space.because ?? '', path };
  switch (space.kind) {
    case 'opening': {
      const [width, height] = list('opening', space.opening) as [number, number];
      const depth = positive(ctx, [...path, 'depth'], one('depth', space.depth, DIMENSION.length, Number.NaN));
      const margin = atLeastZero(ctx, [...path, 'margin'], one('margin', space.margin, DIMENSION.length, 0));
      return {
        ...base,
        kind: 'opening',
        width,
        height,
        depth,
        margin,
        lies: space.lies ?? 'any',
        chainSideUp: space.chain_side === 'up',
      };
    }
    case 'box': {
      const size = list('size', space.size) as [number, number, number];
      const margin = atLeastZero(ctx, [...path, 'margin'], one('margin', space.margin, DIMENSION.length, 0));
      return { ...base, kind: 'box', size, margin, lies: space.lies ?? 'any', chainSideUp: space.chain_side === 'up' };
    }
    case 'stand': {
      const footprint = list('footprint', space.footprint) as [number, number];
      return {
        ...base,
        kind: 'stand',
        footprint,
        height: one('height', space.height, DIMENSION.length, Number.NaN),
        slope: atLeastZero(ctx, [...path, 'slope'], one('slope', space.slope, DIMENSION.angle, 0)),
        jerk: atLeastZero(ctx, [...path, 'jerk'], one('jerk', space.jerk, DIMENSION.number, 0)),
      };
    }
  }
}

type DemandData = NonNullable<BriefData['demands']>[number];
type WishData = NonNullable<BriefData['wishes']>[number];

function readDemand(ctx: Ctx, d: DemandData, path: Path, used: Map<string, number>): Demand[] {
  const { at_most, at_least } = d;
  if (at_most === undefined && at_least === undefined) {
    say(ctx, path, 'demand.limit', `the demand on ${d.quantity} has no limit`, {
      expected: 'at_most, at_least, or both',
      hint: 'a quantity without a limit belongs under wishes',
    });
    return [];
  }
  const atMost = at_most === undefined ? undefined : given(ctx, [...path, 'at_most'], at_most);
  const atLeast = at_least === undefined ? undefined : given(ctx, [...path, 'at_least'], at_least);
  if (atMost && atLeast && atLeast.value > atMost.value)
    say(
      ctx,
      [...path, 'at_least'],
      'demand.limit',
      `no ${d.quantity} is at least ${atLeast.text} and at most ${atMost.text}`,
      {
        found: atLeast.text,
        expected: `at most ${atMost.text}`,
      },
    );
  if (atMost && atLeast && !atMost.zero && !atLeast.zero && !sameDimension(atMost.dimension, atLeast.dimension))
    say(ctx, [...path, 'at_least'], 'expression.unit', `the two limits of ${d.quantity} are of different kinds`, {
      found: `${atLeast.text}, ${atMost.text}`,
    });
  const key = `${d.quantity} ${at_most === undefined ? '' : 'most'} ${at_least === undefined ? '' : 'least'}`;
  const before = used.get(key);
  if (before !== undefined)
    say(ctx, [...path, 'quantity'], 'name.duplicate', `${d.quantity} has the same demand twice`, {
      found: d.quantity,
      hint: `the first stands at demand ${before + 1}`,
    });
  else used.set(key, Number(path.at(-1)));
  const limits = { ...(atMost ? { atMost } : {}), ...(atLeast ? { atLeast } : {}) };
  const span = ctx.document.where([...path, 'quantity']);
  return [{ quantity: d.quantity, ...limits, because: d.because ?? '', path, span }];
}

function readWish(ctx: Ctx, w: WishData, path: Path): Wish[] {
  const best = given(ctx, [...path, 'best'], w.best);
  const worst = given(ctx, [...path, 'worst'], w.worst);
  const weight = positive(ctx, [...path, 'weight'], given(ctx, [...path, 'weight'], w.weight, DIMENSION.number).value);
  if (best.value === worst.value)
    say(ctx, [...path, 'worst'], 'demand.limit', `best and worst of ${w.quantity} are the same`, {
      found: worst.text,
      hint: 'a quantity that must reach one value is a demand',
    });
  if (
    !best.zero &&
    !worst.zero &&
    best.text !== '' &&
    worst.text !== '' &&
    !sameDimension(best.dimension, worst.dimension)
  )
    say(ctx, [...path, 'worst'], 'expression.unit', `best and worst of ${w.quantity} are of different kinds`, {
      found: `${best.text}, ${worst.text}`,
    });
  const span = ctx.document.where([...path, 'quantity']);
  return [{ quantity: w.quantity, best, worst, weight, because: w.because ?? '', path, span }];
}
