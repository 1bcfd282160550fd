import { z } from 'zod';
import {
  beltWheel,
  CHAIN_PITCH,
  centresFor,
  chainWheel,
  type LoopWheel,
  loopAround,
  pitchesFor,
  pulley,
  teethInMesh,
} from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const two = (what: string) => z.tuple([z.number().positive(), z.number().positive()]).describe(what);
const input = z.strictObject({
  kind: z.enum(['belt', 'chain']).optional().describe('belt if absent; a chain has a pitch of 12.7 mm'),
  teeth: z
    .tuple([z.number().int().min(5).max(1000), z.number().int().min(5).max(1000)])
    .optional()
    .describe('Teeth of both wheels; or give diameters_mm'),
  pitch_mm: z.number().positive().optional().describe('Pitch of a belt, mm; needed with its teeth'),
  diameters_mm: two('Pitch diameters of both wheels of a belt, mm').optional(),
  centres_mm: z.number().positive().optional().describe('Distance of the wheels, mm: gives the length'),
  length_mm: z.number().positive().optional().describe('Length of the loop, mm: gives the distance'),
  pitches: z
    .number()
    .int()
    .positive()
    .optional()
    .describe('Links of the chain or teeth of the belt: gives the distance'),
});
const output = z.strictObject({
  length_mm: z.number().describe('Once round, mm'),
  centres_mm: z.number().describe('Distance of the wheels, mm'),
  run_mm: z.number().describe('One straight run, mm'),
  wrap_deg: two('Wrap round the first and the second wheel, deg'),
  teeth_in_mesh: two('Teeth that hold on each').optional(),
  pitches: z.number().optional().describe('Length in pitches'),
  whole_pitches: z.number().optional().describe('Least whole number (of a chain: even) that reaches round'),
  whole_centres_mm: z.number().optional().describe('Distance at which that many are taut, mm'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

function wheelsOf(given: Input): { wheels: readonly [LoopWheel, LoopWheel]; pitch: number | undefined } {
  const { kind = 'belt', teeth, pitch_mm, diameters_mm } = given;
  if ((teeth === undefined) === (diameters_mm === undefined))
    throw new CalcRefusal('give the teeth or the pitch diameters of both wheels', 'teeth');
  if (diameters_mm) {
    if (kind === 'chain') throw new CalcRefusal('wheels of a chain are given by their teeth', 'diameters_mm');
    const pitch = pitch_mm === undefined ? undefined : pitch_mm / 1000;
    return { wheels: [pulley(diameters_mm[0] / 1000), pulley(diameters_mm[1] / 1000)], pitch };
  }
  const [a, b] = teeth!;
  if (kind === 'chain') {
    if (pitch_mm !== undefined && pitch_mm !== CHAIN_PITCH * 1000)
      throw new CalcRefusal(`a bicycle chain has a pitch of ${CHAIN_PITCH * 1000} mm`, 'pitch_mm');
    return { wheels: [chainWheel(a), chainWheel(b)], pitch: CHAIN_PITCH };
  }
  if (pitch_mm === undefined) throw new CalcRefusal('teeth of a belt need its pitch', 'pitch_mm');
  return { wheels: [beltWheel(a, pitch_mm / 1000), beltWheel(b, pitch_mm / 1000)], pitch: pitch_mm / 1000 };
}

const DEG = 180 / Math.PI;
const told = <T>(path: string, run: () => T): T => {
  try {
    return run();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new CalcRefusal(error.message, path);
  }
};

/** Length of a belt or chain round two wheels, or the distance that a length asks for. */
export const topic: CalcTopic<Input, Output> = {
  name: 'belt',
  meaning:
    'length of a belt or chain round two wheels, or the distance of the wheels for a length; wrap, teeth in mesh',
  method:
    'closed form of the open belt on pitch circles; a chain’s pins on a circle of p/(2 sin(π/N)), its length by teeth. Docs: methods/drive',
  input,
  output,
  run(given) {
    const { wheels, pitch } = wheelsOf(given);
    const [a, b] = wheels;
    const asked = (['centres_mm', 'length_mm', 'pitches'] as const).filter((k) => given[k] !== undefined);
    if (asked.length !== 1)
      throw new CalcRefusal('give one of centres_mm, length_mm and pitches', asked[1] ?? 'centres_mm');
    if (given.pitches !== undefined && pitch === undefined)
      throw new CalcRefusal('a number of pitches needs the pitch', 'pitch_mm');
    const length =
      given.length_mm !== undefined
        ? given.length_mm / 1000
        : given.pitches !== undefined
          ? given.pitches * pitch!
          : undefined;
    const centres =
      length === undefined ? given.centres_mm! / 1000 : told(asked[0]!, () => centresFor(a, b, length).centres);
    const loop = told(asked[0]!, () => loopAround(a, b, centres));
    const whole = pitch === undefined ? undefined : pitchesFor(loop.length, pitch, given.kind === 'chain');
    const { teeth } = given;
    return {
      length_mm: loop.length * 1000,
      centres_mm: centres * 1000,
      run_mm: loop.run * 1000,
      wrap_deg: [loop.wrap[0] * DEG, loop.wrap[1] * DEG],
      ...(teeth ? { teeth_in_mesh: [teethInMesh(teeth[0], loop.wrap[0]), teethInMesh(teeth[1], loop.wrap[1])] } : {}),
      ...(pitch === undefined || whole === undefined
        ? {}
        : {
            pitches: loop.length / pitch,
            whole_pitches: whole,
            whole_centres_mm: centresFor(a, b, whole * pitch).centres * 1000,
          }),
    };
  },
};
