/** The brief's public and its way from door to door, with every gap filled by a default from memory. */
import { FIT_FIGURES, type FitKey, PUBLICS, type SexPublic } from '#kernel';
import { atLeastZero, type Ctx, given, positive, say } from './brief-reader.ts';
import type { BriefData } from './schema/brief-schema.ts';
import type { Amount } from './schema/values.ts';
import type { Path } from './text.ts';
import { DIMENSION, type Dimension, inSI, parseUnit } from './units.ts';

const DEFAULTS = {
  women: 0.5,
  public: 'germany_2005',
  sample: 4000,
  seed: 1,
  distance: 3000,
  climbLength: 200,
  roll: 40,
  carry: 20,
  step: 0.17,
} as const;

export function readPublic(ctx: Ctx, r: BriefData['riders']) {
  const id = r?.public ?? DEFAULTS.public;
  const number = (path: Path, raw: Amount | undefined, dimension: Dimension, fallback: number): number =>
    raw === undefined ? fallback : given(ctx, path, raw, dimension).value;
  const people = (sex: 'female' | 'male'): SexPublic => {
    const usual = PUBLICS[id][sex];
    const own = r?.[sex];
    const one = (
      key: keyof NonNullable<typeof own>,
      dimension: Dimension,
      fallback: number,
      [low, high, unit]: readonly [number, number, string],
    ): number => {
      const value = positive(ctx, ['riders', sex, key], number(['riders', sex, key], own?.[key], dimension, fallback));
      if (value > 0 && (value < low || value > high))
        say(ctx, ['riders', sex, key], 'value.range', `riders.${sex}.${key} is not a public's`, {
          found: String(own?.[key]),
          expected: `${low} to ${high} ${unit}`,
        });
      return value;
    };
    return {
      stature: one('stature', DIMENSION.length, usual.stature, [1.3, 2, 'm']),
      statureSpread: one('stature_spread', DIMENSION.length, usual.statureSpread, [0.02, 0.15, 'm']),
      mass: one('mass', DIMENSION.mass, usual.mass, [35, 150, 'kg']),
      massSpread: one('mass_spread', DIMENSION.mass, usual.massSpread, [2, 40, 'kg']),
    };
  };
  const within = (key: 'women' | 'sample', fallback: number, [low, high]: readonly [number, number]): number => {
    const value = number(['riders', key], r?.[key], DIMENSION.number, fallback);
    if (value < low || value > high)
      say(ctx, ['riders', key], 'value.range', `riders.${key} is out of range`, {
        found: String(r?.[key]),
        expected: key === 'women' ? '0 % to 100 %' : `${low} to ${high}`,
      });
    return value;
  };
  return {
    women: within('women', DEFAULTS.women, [0, 1]),
    public: id,
    female: people('female'),
    male: people('male'),
    sample: Math.round(within('sample', DEFAULTS.sample, SAMPLE)),
    seed: r?.seed ?? DEFAULTS.seed,
    hands: r?.hands ?? ('anybody' as const),
    limits: readLimits(ctx, r?.limits),
  };
}

function readLimits(ctx: Ctx, raw: Readonly<Record<string, Amount | undefined>> | undefined) {
  const out: Partial<Record<FitKey, number>> = {};
  for (const figure of FIT_FIGURES) {
    const text = raw?.[figure.key];
    if (text === undefined) continue;
    const unit = parseUnit(figure.unit)!;
    const value = given(ctx, ['riders', 'limits', figure.key], text, unit.dimension).value;
    const [low, high] = figure.range;
    if (value < inSI(low, unit) || value > inSI(high, unit))
      say(ctx, ['riders', 'limits', figure.key], 'value.range', `${figure.key} is out of range: ${figure.meaning}`, {
        found: String(text),
        expected: `${low} to ${high} ${figure.unit}`,
      });
    out[figure.key] = value;
  }
  return out;
}

export function readJourney(ctx: Ctx, t: BriefData['trip']) {
  const one = (
    key: 'distance' | 'climb_length' | 'roll' | 'carry' | 'step' | 'rest',
    dimension: Dimension,
    fallback: number,
  ): number => {
    const raw = t?.[key];
    return raw === undefined
      ? fallback
      : atLeastZero(ctx, ['trip', key], given(ctx, ['trip', key], raw, dimension).value);
  };
  const distance = one('distance', DIMENSION.length, DEFAULTS.distance);
  const climbLength = one('climb_length', DIMENSION.length, Math.min(distance, DEFAULTS.climbLength));
  if (climbLength > distance)
    say(ctx, ['trip', 'climb_length'], 'value.range', 'the climb is longer than the way', {
      expected: `at most ${distance} m`,
    });
  const rest = one('rest', DIMENSION.number, Number.POSITIVE_INFINITY);
  return {
    distance,
    climbLength,
    roll: one('roll', DIMENSION.length, DEFAULTS.roll),
    carry: one('carry', DIMENSION.length, DEFAULTS.carry),
    step: positive(ctx, ['trip', 'step'], one('step', DIMENSION.length, DEFAULTS.step)),
    rest: t?.rest === undefined ? rest : positive(ctx, ['trip', 'rest'], rest),
    lifts: Object.entries(t?.lifts ?? {}).map(([name, raw]) => {
      const path = ['trip', 'lifts', name];
      const height = positive(ctx, path, given(ctx, path, raw, DIMENSION.length).value);
      if (height > HIGHEST_LIFT)
        say(ctx, path, 'value.range', `nobody lifts a bicycle to ${String(raw)}`, {
          expected: `at most ${HIGHEST_LIFT} m`,
        });
      return { name, height };
    }),
  };
}

/** Overhead with stretched arms, m. */
const HIGHEST_LIFT = 2.2;
/** Fewer say nothing about a share, more cost seconds. */
const SAMPLE = [100, 100_000] as const;
