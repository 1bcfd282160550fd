/**
 * The calculations of `foldwright calc`, by name. Each is loaded when it is asked for, so that one small calculation
 * does not wait for the others.
 */
import type { CalcTopic } from './topic.ts';

/** The registry's element: topics differ in their input and output, which their own schemas check. */
type Loader = () => Promise<CalcTopic>;

const LOADERS: Readonly<Record<string, Loader>> = {
  belt: async () => (await import('./belt.ts')).topic,
  bolt: async () => (await import('./bolt.ts')).topic,
  clearance: async () => (await import('./clearance.ts')).topic,
  fatigue: async () => (await import('./fatigue.ts')).topic,
  frame: async () => (await import('./frame.ts')).topic,
  'hand-force': async () => (await import('./hand-force.ts')).topic,
  latch: async () => (await import('./latch.ts')).topic,
  leg: async () => (await import('./leg.ts')).topic,
  lifting: async () => (await import('./lifting.ts')).topic,
  linkage: async () => (await import('./linkage.ts')).topic,
  lug: async () => (await import('./lug.ts')).topic,
  'min-box': async () => (await import('./min-box.ts')).topic,
  'motion-time': async () => (await import('./motion-time.ts')).topic,
  population: async () => (await import('./population.ts')).topic,
  power: async () => (await import('./power.ts')).topic,
  steer: async () => (await import('./steer.ts')).topic,
  'steer-geometry': async () => (await import('./steer-geometry.ts')).topic,
  'tube-buckling': async () => (await import('./tube-buckling.ts')).topic,
  'tube-section': async () => (await import('./tube-section.ts')).topic,
  tyre: async () => (await import('./tyre.ts')).topic,
};

/** All topics in the order of their names. */
export const calcTopicNames: readonly string[] = Object.keys(LOADERS).sort();

/** The topic of that name, or undefined. */
export async function loadCalcTopic(name: string): Promise<CalcTopic | undefined> {
  return Object.hasOwn(LOADERS, name) ? LOADERS[name]!() : undefined;
}

export { type CalcAnswer, type CalcProblem, calcSchemas, runCalc } from './run.ts';
export { CalcRefusal, type CalcTopic } from './topic.ts';
