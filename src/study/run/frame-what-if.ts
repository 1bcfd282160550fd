/** What a stiffer joint would buy: a stiffness measurement solved anew with one joint's springs multiplied. */
import { type FrameSolution, type FrameSolver, type StiffnessId, stiffnessOf, stiffnessTest } from '#kernel';
import type { FrameModel } from './frame-context.ts';
import { jointOf } from './frame-words.ts';

export interface StifferJoint {
  readonly joint: string;
  readonly factor: number;
  /** N/mm, or N·mm/rad, as the joint is and as it would be. */
  readonly before: number;
  readonly after: number;
  readonly rotates: boolean;
}

/**
 * @param solver of the model's structure. @param joint as `softestJoint` names it. @param factor on all six of its stiffnesses.
 * @returns undefined where the measurement does not apply or no such joint bears load. @throws as the solver.
 */
export function stifferJoint(
  model: FrameModel,
  solver: FrameSolver,
  id: StiffnessId,
  joint: string,
  factor: number,
): StifferJoint | undefined {
  const { joints } = model.built.structure;
  const test = stiffnessTest(id, model.context);
  if (!test || !joints.some((j) => jointOf(j.name) === joint)) return undefined;
  const jointStiffness = Float64Array.from(
    [...joints, ...test.group.fixtures].flatMap((j, i) =>
      j.laws.map((law) => law.closed * (i < joints.length && jointOf(j.name) === joint ? factor : 1)),
    ),
  );
  const [as] = solver.solve(test.group);
  const [would] = solver.solve(test.group, { jointStiffness });
  const of = (solution: FrameSolution): number => stiffnessOf(test, solution, model.context);
  return { joint, factor, before: of(as!), after: of(would!), rotates: test.rotates };
}
