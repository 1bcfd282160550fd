/** The tube that several calculations ask for, and how it becomes a section. */
import { z } from 'zod';
import { CheckRefusal, type TubeSize } from '#kernel';
import { CalcRefusal } from './topic.ts';

export const tubeKeys = {
  shape: z.enum(['round', 'oval', 'rectangular']).optional().describe('Shape of the section; round if absent'),
  od_mm: z.number().positive().optional().describe('Outside diameter of a round tube, mm'),
  height_mm: z.number().positive().optional().describe('Outside height of an oval or rectangular tube, mm'),
  width_mm: z.number().positive().optional().describe('Outside width of an oval or rectangular tube, mm'),
  wall_mm: z.number().positive().describe('Wall, mm; half of the smaller side means a solid bar'),
};
export interface TubeGiven {
  readonly shape?: 'round' | 'oval' | 'rectangular' | undefined;
  readonly od_mm?: number | undefined;
  readonly height_mm?: number | undefined;
  readonly width_mm?: number | undefined;
  readonly wall_mm: number;
}

const named = (shape: string): string => `${shape === 'oval' ? 'an' : 'a'} ${shape} tube`;

/** @throws CalcRefusal where sizes are missing, do not belong to the shape, or leave no room for the wall. */
export function tubeOf(given: TubeGiven, path = '', shape = given.shape ?? 'round'): TubeSize {
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  const needed = shape === 'round' ? (['od_mm'] as const) : (['height_mm', 'width_mm'] as const);
  const foreign = shape === 'round' ? (['height_mm', 'width_mm'] as const) : (['od_mm'] as const);
  for (const key of foreign)
    if (given[key] !== undefined) throw new CalcRefusal(`${named(shape)} takes ${needed.join(' and ')}`, at(key));
  for (const key of needed)
    if (given[key] === undefined) throw new CalcRefusal(`${named(shape)} needs ${key}`, at(key));
  const height = given.od_mm ?? given.height_mm ?? Number.NaN;
  const width = given.od_mm ?? given.width_mm ?? Number.NaN;
  const half = Math.min(height, width) / 2;
  if (given.wall_mm > half * (1 + WALL_ROUNDING))
    throw new CalcRefusal(`the wall is more than half of ${2 * half} mm`, at('wall_mm'), { most_mm: half });
  return { shape, height, width, wall: given.wall_mm };
}
/** 12.7/2 written as 6.35 is a bar, whatever its last bit. */
const WALL_ROUNDING = 1e-9;

/** Runs a check; its refusal becomes the calculation's, at the key that `paths` gives for the field. */
export function refusedAt<T>(paths: Readonly<Record<string, string>>, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (!(error instanceof CheckRefusal)) throw error;
    throw new CalcRefusal(error.message, paths[error.path] ?? error.path);
  }
}
