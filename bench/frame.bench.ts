/**
 * Frame: all linear load cases of one candidate (dimensions changed, members recomputed, end forces recovered), and its
 * parts. Beside it in the same run: the same system by the dense routines of ml-matrix.
 */
import { CholeskyDecomposition, LuDecomposition, Matrix } from 'ml-matrix';
import { frameSolver, memberEndStiffness } from '#kernel';
import { benchFrame } from '../verification/frame/made-up-frame.ts';
import { measure } from './measure.ts';

const one = benchFrame();
const two = benchFrame(1.01);
const solver = frameSolver(one.structure, one.groups);
const size = `${one.structure.members.length} members, ${one.structure.nodes.length} nodes`;
const vectors = one.groups.reduce((sum, group) => sum + group.loads.length, 0);

let flip = false;
measure(
  `frame: ${size}, ${one.groups.length} groups, ${vectors} load vectors`,
  () => {
    flip = !flip;
    solver.update((flip ? two : one).structure);
    let sum = 0;
    for (const group of one.groups)
      for (const solution of solver.solve(group)) sum += solution.u[0]! + solution.end[0]!;
    return sum;
  },
  { aim_us: 1000 },
);
const k = new Float64Array(36);
measure('frame: member stiffnesses alone', () => {
  for (const member of one.structure.members) memberEndStiffness(member, k);
  return k[0]!;
});
measure('frame: update alone', () => {
  flip = !flip;
  solver.update((flip ? two : one).structure);
  return solver.numbers.k[0]!;
});
const group = one.groups[0]!;
solver.update(one.structure);
measure('frame: one group, factorisation alone', () => solver.solve({ ...group, loads: [] }).length + 1);
measure('frame: one group, factorisation and one load vector', () => {
  return solver.solve({ ...group, loads: [group.loads[0]!] })[0]!.u[0]!;
});
const fresh = { ...group, loads: [group.loads[0]!] };
measure(
  'frame: order, members, everything from nothing',
  () => frameSolver(one.structure, one.groups).solve(fresh)[0]!.u[0]!,
);
