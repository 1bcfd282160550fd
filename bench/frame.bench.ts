/**
 * Frame: all linear load cases of one candidate (dimensions changed, members recomputed, end forces recovered), and its
 * parts. Beside them in the same run: the same matrix by the dense routines of a general-purpose library.
 */
import { CholeskyDecomposition, LuDecomposition, Matrix } from 'ml-matrix';
import {
  frameBuckling,
  frameSecondOrder,
  frameSolver,
  type LoadGroup,
  memberEndStiffness,
  memberStiffness,
} from '#kernel';
import { benchFrame } from '../verification/frame/made-up-frame.ts';
import { measure } from './measure.ts';

const one = benchFrame();
const two = benchFrame(1.01);
const { structure, groups } = one;
const solver = frameSolver(structure, groups);
const size = `${structure.members.length} members, ${structure.nodes.length} nodes`;
const vectors = groups.reduce((sum, group) => sum + group.loads.length, 0);

let flip = false;
measure(
  `frame: ${size}, ${groups.length} groups, ${vectors} loads`,
  () => {
    flip = !flip;
    solver.update((flip ? two : one).structure);
    let sum = 0;
    for (const group of groups) for (const solution of solver.solve(group)) sum += solution.u[0]! + solution.end[0]!;
    return sum;
  },
  { aim_us: 1000 },
);
const k = new Float64Array(36);
measure('frame: stiffness of all members', () => {
  for (const member of structure.members) memberEndStiffness(member, k);
  return k[0]!;
});

// One set of supports from nothing, as a dense library would have it: all nodes eliminated.
const group = groups[0]!;
const alone: LoadGroup = { ...group, loads: [] };
const vector: LoadGroup = { ...group, loads: [group.loads[0]!] };
const single = frameSolver(structure, [vector]);
measure('frame: assembly and factorisation of all nodes', () => {
  single.update(structure);
  return single.solve(alone).length + 1;
});
single.update(structure);
solver.update(structure);
measure('frame: factorisation of one more set of supports', () => solver.solve(alone).length + 1);
measure('frame: the same with a load, end forces, residual', () => solver.solve(vector)[0]!.u[0]!);
measure(
  'frame: order, members, factorisation, one load',
  () => frameSolver(structure, [vector]).solve(vector)[0]!.u[0]!,
);

// The same stiffness as a dense matrix of the free components.
const freedoms = 6 * structure.nodes.length;
const full = Matrix.zeros(freedoms, freedoms);
structure.members.forEach((member) => {
  const K = memberStiffness(member, structure.nodes[member.from]!.at, structure.nodes[member.to]!.at);
  const at = (i: number): number => (i < 6 ? 6 * member.from + i : 6 * member.to + i - 6);
  for (let i = 0; i < 12; i++)
    for (let j = 0; j < 12; j++) full.set(at(i), at(j), full.get(at(i), at(j)) + K[12 * i + j]!);
});
const { jointH, jointK } = solver.numbers;
structure.joints.forEach(({ from, to }, n) => {
  const at = (i: number): number => (i < 6 ? 6 * from + i : 6 * to + i - 6);
  for (let c = 0; c < 6; c++)
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) {
        const h = 72 * n + 12 * c;
        full.set(at(i), at(j), full.get(at(i), at(j)) + jointK[6 * n + c]! * jointH[h + i]! * jointH[h + j]!);
      }
});
const held = new Set(group.supports.map(({ node, component }) => 6 * node + component));
const free = Array.from({ length: freedoms }, (_, i) => i).filter((i) => !held.has(i));
const K = full.selection(free, free);
const f = Matrix.zeros(free.length, 1);
for (const { node, force } of group.loads[0]!)
  force.forEach((value, c) => {
    const row = free.indexOf(6 * node + c);
    if (row >= 0) f.set(row, 0, f.get(row, 0) + value);
  });
const dense = new LuDecomposition(K).solve(f);
const ours = solver.solve(vector)[0]!.u;
const furthest = free.reduce((worst, i, row) => Math.max(worst, Math.abs(ours[i]! - dense.get(row, 0))), 0);
if (!(furthest < 1e-6)) throw new Error(`dense and sparse solutions differ by ${furthest}`);
measure(`frame: ml-matrix LU of the same, ${free.length} freedoms`, () =>
  new LuDecomposition(K).isSingular() ? 0 : 1,
);
// Its Cholesky wants symmetry to the last bit: the mean of both halves.
K.add(K.transpose()).mul(0.5);
measure('frame: ml-matrix Cholesky of the same', () => new CholeskyDecomposition(K).lowerTriangularMatrix.get(0, 0));
const factor = new CholeskyDecomposition(K);
measure('frame: ml-matrix Cholesky, one load', () => factor.solve(f).get(0, 0));

measure('frame: buckling factor of one load', () => frameBuckling(structure, group, 0).factor);
measure('frame: second order of one load', () => frameSecondOrder(structure, group, 0).solution!.u[0]!);
