/**
 * The lightest choice of one size for each of several groups that holds all demands: a search over whole steps.
 *
 * Method: from the strongest sizes, stress ratios (fully stressed design) lead near the answer; from there single steps down,
 * the one first that saves most mass for the room that it takes; then exchanges: one group a step up while another
 * goes down by any number of steps, or two others by one. It ends where none of these and no smaller size of any one group holds
 * and is lighter. Where nothing holds at the start, steps that lower the sum of what is missed come first.
 * That is a local optimum of a stated neighbourhood, not a proof over all combinations. Nothing is random: the same input
 * gives the same answer. Sizes need not act monotonically (a stiffer tube draws load), so every step is computed, none guessed.
 * Source: stress ratio as in Haftka, Gürdal 1992, Elements of Structural Optimization, ch. 9 (from memory); the rest is plain local search.
 * Not here: what a size is, how a choice is computed.
 */

/** What a choice amounts to. */
export interface Look {
  /** What is missed in all, as shares of limits; 0 exactly where all demands hold, Infinity where nothing can be computed. */
  readonly miss: number;
  /** Use of each demand's room: 1 at its limit. */
  readonly use: readonly number[];
  /** For each group the factor on its strength that its stresses ask for; 0 where none does. */
  readonly ratio: readonly number[];
}
export type Choice = readonly number[];

export interface Sizing {
  /** kg of each group at each of its sizes, not falling from one size to the next; at least one size each. */
  readonly mass: readonly (readonly number[])[];
  /** Strength of each group at each of its sizes, in any unit. */
  readonly strength: readonly (readonly number[])[];
  /** Must answer the same for the same choice. */
  look(choice: Choice): Look;
}
export interface SearchOptions {
  /** Tried besides the strongest sizes. */
  readonly starts?: readonly Choice[];
  /** Begin here and nowhere else, without stress ratios. */
  readonly from?: Choice;
  /**
   * Exchanges whose uses, added up from single steps, miss by more than this in all are passed over; everything is computed
   * when left out.
   */
  readonly estimate?: number;
}
export interface Found {
  readonly choice: Choice;
  readonly look: Look;
  /** Of the groups alone, kg. */
  readonly mass: number;
  readonly holds: boolean;
  /** Steps and exchanges that were taken after the first choice that held. */
  readonly steps: number;
}
/** Told now and then while searching. */
export interface Searching {
  /** kg of the lightest choice that holds so far; undefined where none does. */
  readonly mass: number | undefined;
}

/** Rounds of stress ratios; they settle in three or four or swing to and fro. */
const ROUNDS = 8;
/** Mass that a step is taken to cost at least when it is weighed against what it mends, kg. */
const GRAIN = 0.02;
/** Use of room that counts as none. */
const NO_ROOM = 1e-6;
/** Less of a miss than this is no progress: it would be paid for in mass. */
const CLEAR = 1e-5;
/** Differences of mass below this are none, kg. */
const SAME = 1e-9;

export function massOf({ mass }: Pick<Sizing, 'mass'>, choice: Choice): number {
  let sum = 0;
  for (let g = 0; g < choice.length; g++) sum += mass[g]![choice[g]!]!;
  return sum;
}

export function* search(p: Sizing, options: SearchOptions = {}): Generator<Searching, Found> {
  const first = options.from
    ? { choice: options.from, look: p.look(options.from) }
    : yield* begin(p, [strongest(p), ...(options.starts ?? [])]);
  let here = first.look.miss === 0 ? first : yield* mend(p, first.choice);
  let steps = 0;
  while (here.look.miss === 0) {
    yield { mass: massOf(p, here.choice) };
    const next = (yield* descend(p, here)) ?? (yield* exchange(p, here, options.estimate));
    if (!next) break;
    here = next;
    steps++;
  }
  return { ...here, mass: massOf(p, here.choice), holds: here.look.miss === 0, steps };
}

interface At {
  readonly choice: Choice;
  readonly look: Look;
}
/** Something missed by clearly less, or the same missed at less mass. */
function better(p: Sizing, a: At, b: At | undefined): boolean {
  if (b === undefined || clearlyLess(a.look.miss, b.look.miss)) return true;
  return !clearlyLess(b.look.miss, a.look.miss) && massOf(p, a.choice) < massOf(p, b.choice) - SAME;
}
/** What holds is better than what misses, by however little. */
const clearlyLess = (a: number, b: number): boolean => a < b && (a === 0 || !(b - a < CLEAR));

/** The best choice that stress ratios lead to from each start: the lightest that holds, else the one that misses least. */
function* begin(p: Sizing, starts: readonly Choice[]): Generator<Searching, At> {
  let best: At | undefined;
  for (const start of starts) {
    const seen = new Set<string>();
    let choice = start;
    for (let round = 0; round < ROUNDS && !seen.has(choice.join()); round++) {
      seen.add(choice.join());
      const look = p.look(choice);
      if (better(p, { choice, look }, best)) best = { choice, look };
      yield { mass: best!.look.miss === 0 ? massOf(p, best!.choice) : undefined };
      choice = choice.map((k, g) => resized(p.strength[g]!, k, look.ratio[g]!));
    }
  }
  return best!;
}

/** The first size that is as strong as the ratio asks. */
function resized(strength: readonly number[], k: number, ratio: number): number {
  const wanted = strength[k]! * ratio * (1 - 1e-9);
  const found = strength.findIndex((s) => s >= wanted);
  return found < 0 ? strongestOf(strength) : found;
}
const strongestOf = (strength: readonly number[]): number => strength.lastIndexOf(Math.max(...strength));
/** The strongest size of every group. */
export const strongest = ({ strength }: Pick<Sizing, 'strength'>): Choice => strength.map(strongestOf);

const moved = (choice: Choice, ...moves: readonly (readonly [group: number, size: number])[]): Choice => {
  const out = [...choice];
  for (const [g, k] of moves) out[g] = k;
  return out;
};

/** Steps up and down that lower what is missed, the most for their mass first; then two at once. Ends where none does. */
function* mend(p: Sizing, start: Choice): Generator<Searching, At> {
  let here: At = { choice: start, look: p.look(start) };
  while (here.look.miss > 0) {
    let best: (At & { readonly score: number }) | undefined;
    const before = here.look.miss;
    const consider = (choice: Choice): void => {
      const look = p.look(choice);
      const gain = before === Number.POSITIVE_INFINITY && look.miss < before ? 1 / (1 + look.miss) : before - look.miss;
      const score = gain / Math.max(massOf(p, choice) - massOf(p, here.choice), GRAIN);
      if (clearlyLess(look.miss, before) && (!best || score > best.score)) best = { choice, look, score };
    };
    const singles = here.choice.flatMap((k, g) =>
      [k + 1, k - 1].filter((s) => p.mass[g]![s] !== undefined).map((s) => [g, s] as const),
    );
    for (const move of singles) {
      consider(moved(here.choice, move));
      yield { mass: undefined };
    }
    if (!best)
      for (const a of singles)
        for (const b of singles) {
          if (b[0] <= a[0]) continue;
          consider(moved(here.choice, a, b));
          yield { mass: undefined };
        }
    if (!best) return here;
    here = best;
  }
  return here;
}

/** One step down of one group: the one that saves most mass for the room that it takes. */
function* descend(p: Sizing, here: At): Generator<Searching, At | undefined> {
  let best: (At & { readonly score: number }) | undefined;
  for (let g = 0; g < here.choice.length; g++) {
    const k = here.choice[g]!;
    if (k === 0) continue;
    const choice = moved(here.choice, [g, k - 1]);
    const saved = p.mass[g]![k]! - p.mass[g]![k - 1]!;
    if (!(saved > SAME)) continue;
    const look = p.look(choice);
    yield { mass: massOf(p, here.choice) };
    if (look.miss > 0) continue;
    const taken = look.use.reduce((sum, u, i) => sum + Math.max(0, u - here.look.use[i]!), 0);
    const score = saved / (taken + NO_ROOM);
    if (!best || score > best.score) best = { choice, look, score };
  }
  return best;
}

/** The lightest choice of the neighbourhood that holds; undefined where none is lighter than here. */
function* exchange(p: Sizing, here: At, estimate: number | undefined): Generator<Searching, At | undefined> {
  const now = massOf(p, here.choice);
  const all = neighbours(p, here.choice)
    .map((moves) => ({ moves, choice: moved(here.choice, ...moves) }))
    .map((n) => ({ ...n, mass: massOf(p, n.choice) }))
    .filter((n) => n.mass < now - SAME)
    // equal masses keep the order in which they were made
    .sort((a, b) => a.mass - b.mass);
  for (const { moves, choice } of all) {
    if (estimate !== undefined && estimated(p, here, moves) > estimate) continue;
    const look = p.look(choice);
    yield { mass: now };
    if (look.miss === 0) return { choice, look };
  }
  return undefined;
}

type Move = readonly [group: number, size: number];

/** What several moves together would miss by, if each changed the uses as it does alone. */
function estimated(p: Sizing, here: At, moves: readonly Move[]): number {
  const use = [...here.look.use];
  for (const move of moves) {
    const alone = p.look(moved(here.choice, move));
    if (alone.miss === Number.POSITIVE_INFINITY) return alone.miss;
    for (let i = 0; i < use.length; i++) use[i]! += alone.use[i]! - here.look.use[i]!;
  }
  return use.reduce((sum, u) => sum + Math.max(0, u - 1), 0);
}

function neighbours(p: Sizing, choice: Choice): (readonly Move[])[] {
  const out: (readonly Move[])[] = [];
  const groups = choice.map((_, g) => g);
  for (const g of groups) for (let k = 0; k < choice[g]!; k++) out.push([[g, k]]);
  for (const up of groups) {
    const higher = choice[up]! + 1;
    if (p.mass[up]![higher] === undefined) continue;
    const others = groups.filter((g) => g !== up && choice[g]! > 0);
    for (const g of others)
      for (let k = 0; k < choice[g]!; k++)
        out.push([
          [up, higher],
          [g, k],
        ]);
    for (const a of others)
      for (const b of others)
        if (b > a)
          out.push([
            [up, higher],
            [a, choice[a]! - 1],
            [b, choice[b]! - 1],
          ]);
  }
  return out;
}

/** Runs a search to its end, for those who need not be told. */
export function runToEnd<T>(work: Generator<unknown, T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}
