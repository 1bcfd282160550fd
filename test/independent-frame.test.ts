/**
 * The beam models of the quayside bicycles solved a second time by a solver that shares nothing with the kernel's: dense, one
 * textbook element a piece (`independent-beams.ts`). Structure, supports and loads are taken as the kernel made them.
 */
import { describe, expect, it } from 'vitest';
import { runFrame } from '../src/study/run/frame.ts';
import { expectWithin } from './expect-within.ts';
import { quayside } from './fixtures/quayside.ts';
import { secondSolution } from './independent-beams.ts';

/** Two ways of elimination beside rigs a thousand times stiffer than the frame: share of the largest motion. */
const TWO_WAYS = 1e-6;
const workspace = quayside();

describe.each([
  ['four_bar', ['pedalling', 'step']],
  ['city', ['horizontal', 'vertical']],
] as const)('%s', (name, ids) => {
  const candidate = workspace.project.candidates.find((c) => c.id === name)!;
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  const frame = runFrame(candidate, s, workspace.setting);
  it.each(ids)('moves under %s as the second solver says', (id) => {
    const { loads, solutions } = frame.cases.get(id)!;
    const { structure } = frame.model.built;
    const vector = loads.loads.length - 1;
    const second = secondSolution(structure, loads, vector);
    const ours = solutions[vector]!.u;
    expect(second.length).toBe(ours.length);
    const largest = [0, 3].map((shift) =>
      Math.max(...structure.nodes.flatMap((_, n) => [0, 1, 2].map((k) => Math.abs(second[6 * n + shift + k]!)))),
    );
    expect(largest[0]).toBeGreaterThan(0.1);
    structure.nodes.forEach((node, n) => {
      for (let k = 0; k < 6; k++)
        expectWithin(ours[6 * n + k]!, second[6 * n + k]!, { absolute: TWO_WAYS * largest[k < 3 ? 0 : 1]! }, [
          node.name,
          k,
        ]);
    });
  });
});
