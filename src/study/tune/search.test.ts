import { expect, test } from 'vitest';
import { type Choice, type Look, massOf, runToEnd, type Sizing, search } from './search.ts';

/** Bars side by side that share loads by stiffness, several cases: a stiffer bar draws load, as in a frame. */
function bars(cases: readonly (readonly number[])[], sizes: readonly number[], lengths: readonly number[]): Sizing {
  const look = (choice: Choice): Look => {
    const area = choice.map((k) => sizes[k]!);
    const use: number[] = [];
    const ratio = choice.map(() => 0);
    for (const load of cases) {
      // each load acts on two neighbouring bars, which take it in proportion to their stiffness
      load.forEach((f, i) => {
        const j = (i + 1) % area.length;
        const [ki, kj] = [area[i]! / lengths[i]!, area[j]! / lengths[j]!];
        const motion = f / (ki + kj);
        for (const [b, k] of [
          [i, ki],
          [j, kj],
        ] as const) {
          const u = (motion * k) / area[b]!;
          use.push(u);
          ratio[b] = Math.max(ratio[b]!, u);
        }
      });
    }
    return { use, ratio, miss: use.reduce((sum, u) => sum + Math.max(0, u - 1), 0) };
  };
  const mass = lengths.map((l) => sizes.map((s) => l * s));
  return { mass, strength: lengths.map(() => sizes), look };
}
/** The lightest of all combinations. */
function allTried(p: Sizing): { mass: number; choice: Choice } | undefined {
  let best: { mass: number; choice: Choice } | undefined;
  const visit = (choice: number[]): void => {
    if (choice.length < p.mass.length) {
      for (let k = 0; k < p.mass[choice.length]!.length; k++) visit([...choice, k]);
      return;
    }
    const mass = massOf(p, choice);
    if ((!best || mass < best.mass) && p.look(choice).miss === 0) best = { mass, choice };
  };
  visit([]);
  return best;
}

const SIZES = [0.5, 0.8, 1, 1.2, 1.5, 1.8, 2, 2.5];
const PROBLEMS: readonly (readonly [string, Sizing])[] = [
  [
    'two cases',
    bars(
      [
        [1, 0.2, 0.7, 0.4],
        [0.3, 1.1, 0.1, 0.9],
      ],
      SIZES,
      [1, 2, 1.5, 0.7],
    ),
  ],
  ['one long bar', bars([[1.5, 1.5, 0.2, 0.6]], SIZES, [1, 6, 1, 1])],
  [
    'uneven loads',
    bars(
      [
        [2.2, 0.1, 1.9, 0.1],
        [0.1, 2.4, 0.2, 1.3],
      ],
      SIZES,
      [0.8, 1.1, 2.7, 1.9],
    ),
  ],
];

test.each(PROBLEMS)('%s: the search finds what trying all 4096 combinations finds', (_, p) => {
  const found = runToEnd(search(p));
  const best = allTried(p)!;
  expect(found.holds).toBe(true);
  expect(found.mass).toBe(best.mass);
});

test('a demand that asks for more stiffness than the stress ratio knows of is met with the least mass', () => {
  const base = bars([[1, 0.2, 0.7, 0.4]], SIZES, [1, 2, 1.5, 0.7]);
  const p: Sizing = {
    ...base,
    look(choice) {
      const found = base.look(choice);
      const stiffness = choice.reduce((sum, k, g) => sum + SIZES[k]! * [3, 1, 2, 1][g]!, 0);
      const use = 9 / stiffness;
      return { ...found, use: [...found.use, use], miss: found.miss + Math.max(0, use - 1) };
    },
  };
  expect(runToEnd(search(p)).mass).toBe(allTried(p)!.mass);
});

test('the same problem gives the same answer, choice for choice', () => {
  const [, p] = PROBLEMS[0]!;
  expect(runToEnd(search(p))).toEqual(runToEnd(search(p)));
});

test('what no sizes can hold is said not to hold, with the least that must be missed', () => {
  const p = bars([[9, 0, 0, 0]], SIZES, [1, 2, 1.5, 0.7]);
  const found = runToEnd(search(p));
  expect(found.holds).toBe(false);
  let least = Number.POSITIVE_INFINITY;
  for (let a = 0; a < SIZES.length; a++)
    for (let b = 0; b < SIZES.length; b++) least = Math.min(least, p.look([a, b, 0, 0]).miss);
  expect(found.look.miss).toBe(least);
});

test('a smaller size may hold where the next one misses: every size below is looked at', () => {
  const p: Sizing = {
    mass: [[1, 2, 3]],
    strength: [[1, 2, 3]],
    look: ([k]) => ({ miss: k === 1 ? 0.5 : 0, use: [k === 1 ? 1.5 : 0.5], ratio: [0.9] }),
  };
  expect(runToEnd(search(p))).toMatchObject({ choice: [0], mass: 1, holds: true });
});
