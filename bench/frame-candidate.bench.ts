/**
 * The frame discipline on the real candidates of examples/quayside: all linear load cases of a solved model (aim 1 ms), the
 * same with the model built anew as under a dragging hand, the stiffness measurements, and joints that open and rattle
 * (aim 20 ms).
 */
import { evaluateCase, solveAlike } from '#kernel';
import { runFrame } from '../src/study/run/frame.ts';
import { runFrameJoints, runFramePlay } from '../src/study/run/frame-settle.ts';
import { runStiffness } from '../src/study/run/frame-stiffness.ts';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const { candidates, setting } = quayside();
for (const candidate of candidates) {
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  const frame = runFrame(candidate, s, setting);
  const { structure } = frame.model.built;
  const cases = [...frame.cases.values()];
  const groups = cases.map((c) => c.loads);
  const vectors = cases.reduce((sum, c) => sum + c.loads.loads.length, 0);
  const label = `${candidate.id} (${structure.members.length} members, ${structure.nodes.length} nodes)`;
  const solved = (): number => {
    frame.solver.update(structure);
    let sum = 0;
    for (const list of solveAlike(frame.solver, groups)) for (const solution of list) sum += solution.u[1]!;
    return sum;
  };
  measure(`${label}: stiffness of members, ${cases.length} cases, ${vectors} load vectors`, solved, { aim_us: 1000 });
  measure(`${label}: stresses and ranges of all of them`, () => {
    let sum = 0;
    for (const c of cases)
      sum += evaluateCase(c.frameCase, c.loads, c.solutions, frame.points, frame.model.bearing.tubes.length).worst.use;
    return sum;
  });
  measure(`${label}: model, cases, solutions and stresses from the drawing`, () => {
    const again = runFrame(candidate, s, setting);
    return again.cases.get('seated')!.worst.use;
  });
  measure(`${label}: seven stiffness measurements with shares`, () => {
    let sum = 0;
    for (const [, result] of runStiffness(frame.model, frame.solver)) sum += result.value;
    return sum;
  });
  measure(
    `${label}: joints that open and rattle, all service cases`,
    () => runFramePlay(frame).opened.get('seated')!.use + runFrameJoints(candidate, s, frame).openings.length,
    { aim_us: 20_000 },
  );
}
