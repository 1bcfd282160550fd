import { describe, expect, it } from 'vitest';
import { benchFrame } from '../../../../verification/frame/made-up-frame.ts';
import { frameSolver } from '../beam/solver.ts';
import { solveAlike } from './solve-cases.ts';

describe('cases that are held alike', () => {
  const { structure, groups } = benchFrame();
  // every group twice, its loads turned round the second time
  const twice = [
    ...groups,
    ...groups.map((g) => ({
      ...g,
      loads: g.loads.map((v) => v.map((l) => ({ ...l, force: l.force.map((x) => -x) as unknown as typeof l.force }))),
    })),
  ];
  const solver = frameSolver(structure, twice);
  const shared = solveAlike(solver, twice);
  it('have the solutions that each has alone, in the order given', () => {
    twice.forEach((group, i) => {
      const alone = solver.solve(group);
      expect(shared[i]).toHaveLength(group.loads.length);
      alone.forEach((solution, v) => {
        expect(shared[i]![v]!.u).toEqual(solution.u);
        expect(shared[i]![v]!.reaction).toEqual(solution.reaction);
        expect(shared[i]![v]!.joint).toEqual(solution.joint);
      });
    });
  });
});
