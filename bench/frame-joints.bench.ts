/**
 * Frame with play and opening faces: all load vectors of one candidate, 5 joints with four components each that are not
 * linear, every vector opening or rattling some of them. Beside it in the same run: the closed frame, and a preload that nothing opens.
 */
import { type FrameJoint, frameSolver, type JointLaw, solveWithJoints } from '#kernel';
import { benchFrame } from '../verification/frame/made-up-frame.ts';
import { measure } from './measure.ts';

const { structure, groups } = benchFrame();
const vectors = groups.reduce((sum, group) => sum + group.loads.length, 0);
const loosened = (preload: number): readonly FrameJoint[] =>
  structure.joints.map((joint, i) => {
    const laws = [...joint.laws] as JointLaw[];
    const turn = (closed: number): number => closed || 2e7;
    laws[0] = { closed: laws[0]!.closed, open: 0.2 * laws[0]!.closed, opens: 1, preload: 1500 * preload };
    laws[3] = { closed: laws[3]!.closed, play: 2e-4, preload: preload > 1 ? 1e9 : 0 };
    laws[4] = { closed: laws[4]!.closed, open: 0.3 * laws[4]!.closed, opens: 0, preload: 80e3 * preload };
    laws[5] = {
      closed: turn(laws[5]!.closed),
      open: 0.2 * turn(laws[5]!.closed),
      opens: i % 2 ? 1 : -1,
      preload: 60e3 * preload,
      play: 3e-4,
    };
    return { ...joint, laws: laws as unknown as FrameJoint['laws'] };
  });
const run = (preload: number) => {
  const solver = frameSolver({ ...structure, joints: loosened(preload) }, groups);
  return () => {
    let sum = 0;
    for (const group of groups)
      for (const { solution, converged } of solveWithJoints(solver, group))
        sum += converged ? solution.u[0]! : Number.NaN;
    return sum;
  };
};
measure(`frame joints: ${vectors} load vectors, 20 components, all with play, many open`, run(1), { aim_us: 20_000 });
measure(`frame joints: the same under preloads that nothing opens`, run(1e4));
const closed = frameSolver(structure, groups);
measure('frame joints: the closed frame alone', () => {
  let sum = 0;
  for (const group of groups) for (const solution of closed.solve(group)) sum += solution.u[0]!;
  return sum;
});
