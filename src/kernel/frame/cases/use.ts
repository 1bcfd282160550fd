/**
 * What a user's life is made of: how often each service case happens in a kilometre, over the distance of a life.
 *
 * Every number is a default from memory, meant to be edited: an urban rider, 20 000 km. Counts per km; a stroke is one turn of the
 * cranks with a right and a left push (5.25 m a turn). Milder events are their own entries with milder figures than the
 * strength case has. Not here: what damage they do (fatigue), trips of sport, misuse.
 */
import { type CaseFigure, type CaseId, type FigureValues, figureValues } from './figures.ts';

export interface UseEvent {
  /** Key of its count among `USE_FIGURES`. */
  readonly key: string;
  readonly case: CaseId;
  /** Figures that differ from the case's own. */
  readonly figures: Readonly<Partial<FigureValues>>;
  readonly perKm: number;
  readonly meaning: string;
}

const EVENTS: readonly UseEvent[] = [
  // 120 W at 65 turns a minute is 18 N·m on average, about twice that at the peak: 0.2 of 110 kg on cranks of 170 mm
  {
    key: 'strokes',
    case: 'stroke',
    figures: { factor: 0.22 },
    perKm: 175,
    meaning: 'turns of the cranks a km, seated on the level',
  },
  {
    key: 'climbing',
    case: 'stroke',
    figures: { factor: 0.55 },
    perKm: 15,
    meaning: 'turns of the cranks a km, seated against hill or wind',
  },
  { key: 'starts', case: 'start', figures: { factor: 1.2 }, perKm: 3, meaning: 'turns of the cranks a km, standing' },
  {
    key: 'brakings',
    case: 'braking',
    figures: { share: 0.4 },
    perKm: 2,
    meaning: 'brakings a km at two fifths of the limit',
  },
  {
    key: 'hard_brakings',
    case: 'braking',
    figures: { share: 0.9 },
    perKm: 0.02,
    meaning: 'brakings a km near the limit',
  },
  {
    key: 'joints',
    case: 'step',
    figures: { height: 8, speed: 18 },
    perKm: 5,
    meaning: 'joints and stones of 8 mm a km',
  },
  {
    key: 'steps',
    case: 'step',
    figures: { height: 20, speed: 12 },
    perKm: 0.5,
    meaning: 'edges of 20 mm a km, slowly',
  },
  { key: 'kerbs', case: 'kerb', figures: { height: 60 }, perKm: 0.05, meaning: 'drops from low kerbs a km' },
  { key: 'rides', case: 'seated', figures: {}, perKm: 0.3, meaning: 'times a km that the rider gets on' },
  { key: 'lifts', case: 'lifting', figures: { factor: 1.5 }, perKm: 0.4, meaning: 'times a km that it is lifted' },
];

/** Editable figures of the spectrum. */
export const USE_FIGURES: readonly CaseFigure[] = [
  {
    key: 'distance',
    unit: 'km',
    value: 20_000,
    range: [1, 1e6],
    meaning: 'distance of a life',
    source: 'default',
    standing: 'memory',
  },
  ...EVENTS.map(
    ({ key, perKm, meaning }): CaseFigure => ({
      key,
      unit: '1',
      value: perKm,
      range: [0, 1e5],
      meaning,
      source: 'default',
      standing: 'memory',
    }),
  ),
];

export interface UseLoad extends UseEvent {
  /** Times in a life. */
  readonly count: number;
}

/** The spectrum with a brief's edits (km and counts per km). @throws RangeError as `figureValues`. */
export function useSpectrum(edits: Readonly<Partial<FigureValues>> = {}): readonly UseLoad[] {
  const values = figureValues(USE_FIGURES, 'city', edits);
  return EVENTS.map((event) => ({
    ...event,
    perKm: values[event.key]!,
    count: values[event.key]! * values.distance!,
  }));
}
