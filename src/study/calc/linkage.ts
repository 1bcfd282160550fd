/**
 * `foldwright calc linkage`: mobility of a mechanism of pivots and slides, and its postures while one joint is driven.
 *
 * Bodies and joints become the same tree and cuts as a candidate's (kernel/linkage); the length that weighs misaligned axes
 * against gaps is the mechanism's own size, so a drawing in other proportions gives the same answers.
 */

import { z } from 'zod';
import {
  type Chain,
  closeLoops,
  driveSystem,
  FREEDOM,
  HELD,
  KIND,
  type LinkageWorkspace,
  measureJoint,
  mobilityCount,
  mobilityRank,
  newLinkageWorkspace,
  norm,
  type Posture,
  poseBodies,
  SHARPEST,
  scale,
  spanningChain,
  sub,
  traceLoop,
  type Vec3,
} from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const point = z.tuple([z.number(), z.number(), z.number()]);
const input = z.strictObject({
  bodies: z.array(z.string().min(1)).min(2).max(60).describe('names of all bodies, the ground among them'),
  joints: z
    .array(
      z.strictObject({
        kind: z.enum(['pivot', 'slide']).describe('turns about its axis, or slides along it'),
        between: z
          .tuple([z.string(), z.string()])
          .describe('first and second body; a positive value moves the second relative to the first'),
        at_mm: point.describe('a point on the axis in the given pose, mm'),
        axis: point.describe('direction of the axis in the given pose, any length but 0'),
      }),
    )
    .min(1)
    .max(100)
    .describe('joints; all values are 0 in the given pose, in which every joint is closed'),
  ground: z.string().describe('the body that stays put'),
  drive: z
    .strictObject({
      joint: z.number().int().min(0).describe('index of the driven joint, from 0'),
      values_deg: z
        .array(z.number())
        .max(5000)
        .optional()
        .describe('values of a driven pivot from the given pose, deg'),
      values_mm: z.array(z.number()).max(5000).optional().describe('values of a driven slide from the given pose, mm'),
    })
    .optional()
    .describe('the joint that is moved, through these values in this order; none: no poses'),
});
const output = z.strictObject({
  mobility_count: z.number().int().describe('6 (n − 1) − Σ (6 − f), ground counted (Kutzbach)'),
  mobility_rank: z
    .number()
    .int()
    .describe(
      'Σ f − rank of the loop screws, confirmed by a small finite motion: a dead position does not count as mobile',
    ),
  poses: z
    .array(
      z.strictObject({
        joints: z
          .array(z.number())
          .describe('value of every joint, deg (pivots, followed without jumps at half turns) or mm (slides)'),
        residual_mm: z
          .number()
          .describe(
            'root of the sum of squares of what stays open at the joints, misalignment counted at the size of the mechanism',
          ),
        ok: z.boolean().describe('true where all joints close'),
      }),
    )
    .describe('one per driven value; each starts from the last one that closed'),
});

export type LinkageInput = z.infer<typeof input>;
export type LinkageOutput = z.infer<typeof output>;

const DEG = Math.PI / 180;

interface Mechanism {
  readonly top: Chain;
  readonly s: Posture;
  readonly ws: LinkageWorkspace;
}

function mechanism(given: LinkageInput): Mechanism {
  const names = [given.ground, ...given.bodies.filter((name) => name !== given.ground)];
  if (!given.bodies.includes(given.ground))
    throw new CalcRefusal(`ground "${given.ground}" is not one of the bodies`, 'ground', { bodies: given.bodies });
  given.bodies.forEach((name, i) => {
    if (given.bodies.indexOf(name) !== i) throw new CalcRefusal(`body "${name}" is listed twice`, `bodies.${i}`);
  });
  const n = given.joints.length;
  const screws = new Float64Array(6 * n);
  const ends = [new Int32Array(n), new Int32Array(n)] as const;
  given.joints.forEach((joint, j) => {
    joint.between.forEach((name, e) => {
      const body = names.indexOf(name);
      if (body < 0) throw new CalcRefusal(`joint ${j} names an unknown body "${name}"`, `joints.${j}.between.${e}`);
      ends[e]![j] = body;
    });
    if (joint.between[0] === joint.between[1])
      throw new CalcRefusal(`joint ${j} connects "${joint.between[0]}" with itself`, `joints.${j}.between`);
    const length = norm(joint.axis);
    if (!(length > 0 && length < Infinity))
      throw new CalcRefusal(`joint ${j} has no direction: its axis is of length ${length}`, `joints.${j}.axis`);
    screws.set(scale(joint.at_mm, 1e-3), 6 * j);
    screws.set(scale(joint.axis, 1 / length), 6 * j + 3);
  });
  const kind = Int32Array.from(given.joints, (joint) => KIND[joint.kind]);
  const top = spanningChain(names.length, ends[0], ends[1], kind, new Int32Array(n).fill(HELD.none));
  if (!top)
    throw new CalcRefusal('some body does not hang together with the ground through the joints', 'joints', {
      ground: given.ground,
    });
  const s = { joint: screws, q: new Float64Array(n), bodyT: new Float64Array(12 * names.length) };
  poseBodies(top, s);
  return { top, s, ws: newLinkageWorkspace(top, size(given.joints.map((joint) => scale(joint.at_mm, 1e-3)))) };
}

/** Greatest distance of a joint from the middle of all, m; 1 m where all are at one point. */
function size(points: readonly Vec3[]): number {
  const middle = [0, 1, 2].map((i) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length);
  const most = Math.max(...points.map((p) => norm(sub(p, [middle[0]!, middle[1]!, middle[2]!]))));
  return most > 0 ? most : 1;
}

function driven(given: LinkageInput, drive: NonNullable<LinkageInput['drive']>): readonly number[] {
  const joint = given.joints[drive.joint];
  if (!joint)
    throw new CalcRefusal(`drive.joint ${drive.joint} is not one of the ${given.joints.length} joints`, 'drive.joint');
  const [wanted, other] =
    joint.kind === 'pivot' ? (['values_deg', 'values_mm'] as const) : (['values_mm', 'values_deg'] as const);
  const values = drive[wanted];
  if (!values || drive[other])
    throw new CalcRefusal(`a driven ${joint.kind} needs ${wanted} and nothing else`, `drive.${wanted}`);
  return values;
}

function follow(
  given: LinkageInput,
  { top, s, ws }: Mechanism,
  joint: number,
  asked: readonly number[],
): LinkageOutput['poses'] {
  const free = new Uint8Array(given.joints.length).fill(FREEDOM.free);
  const system = driveSystem(top, ws.carried, free, joint);
  const toSi = given.joints.map(({ kind }) => (kind === 'pivot' ? DEG : 1e-3));
  return asked.map((figure) => {
    const value = figure * toSi[joint]!;
    let ok = true;
    let residual = 0;
    let shown: Float64Array;
    if (system.cuts.length === 0) {
      s.q[joint] = value;
      poseBodies(top, s);
      shown = s.q;
    } else {
      const trace = value === s.q[joint] ? null : traceLoop(top, s, system, joint, value, ws);
      const last = s.q.slice();
      if (trace && trace.reached < 1) s.q[joint] = value;
      const report = closeLoops(top, s, system, ws, SHARPEST);
      ok = report.converged;
      residual = report.residual;
      system.cuts.forEach((cut, k) => {
        if (system.fixed[k] === 0) s.q[cut] = measureJoint(top, s, cut, s.q[cut]!);
      });
      shown = s.q.slice();
      if (!ok) s.q.set(last);
    }
    return {
      joints: toSi.map((factor, i) => (i === joint ? figure : shown[i]! / factor)),
      residual_mm: residual * 1e3,
      ok,
    };
  });
}

function run(given: LinkageInput): LinkageOutput {
  const made = mechanism(given);
  const { top, s, ws } = made;
  const free = new Uint8Array(given.joints.length).fill(FREEDOM.free);
  const values = given.drive ? driven(given, given.drive) : [];
  return {
    mobility_count: mobilityCount(
      given.bodies.length,
      given.joints.map(() => 1),
    ),
    mobility_rank: mobilityRank(top, s, free, ws).finite,
    poses: given.drive ? follow(given, made, given.drive.joint, values) : [],
  };
}

export const topic: CalcTopic<LinkageInput, LinkageOutput> = {
  name: 'linkage',
  meaning: 'mobility of a mechanism of pivots and slides, and its postures while one joint is driven',
  method:
    'product of exponentials over a spanning tree; loops closed by Levenberg–Marquardt continuation; mobility by Kutzbach’s count and by the rank of the loop screws',
  input,
  output,
  run,
};
