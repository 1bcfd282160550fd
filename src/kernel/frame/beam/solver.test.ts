import { expect, test } from 'vitest';
import type { Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameStructure, LoadGroup } from '../structure.ts';
import { frameSolver } from './solver.ts';

test('logan', () => {
  const pts: Vec3[] = [
    [0, 0, 0],
    [-100, 0, 0],
    [0, 0, -100],
    [0, -100, 0],
  ];
  const mem = (i: number, j: number): BeamMember => ({
    name: `${i}-${j}`,
    from: i,
    to: j,
    flex: [],
    pieces: [
      {
        from: pts[i]!,
        to: pts[j]!,
        y: i === 0 && j === 3 ? [1, 0, 0] : [0, 1, 0],
        E: 30000,
        G: 10000,
        section: { area: 10, iy: 100, iz: 100, j: 50, asy: Infinity, asz: Infinity },
      },
    ],
  });
  const s: FrameStructure = {
    nodes: pts.map((at, i) => ({ name: `${i + 1}`, at })),
    members: [mem(0, 1), mem(0, 2), mem(0, 3)],
    joints: [],
  };
  const g: LoadGroup = {
    supports: [1, 2, 3].flatMap((node) => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }))),
    fixtures: [],
    loads: [[{ node: 0, force: [0, -50, 0], moment: [-1000, 0, 0] }]],
  };
  const r = frameSolver(s).solve(g)[0]!;
  console.log(r.u.slice(0, 6), r.reaction, r.residual);
});
