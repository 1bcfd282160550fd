/**
 * Computes a candidate with other gauges, without touching its text: walls and diameters are put into the slots of its
 * model, the frame is solved anew, and what it is held to is read off. Every choice is computed once and kept.
 *
 * The beam model, its cases and quantities are those of `check`. A stiffness is measured by itself, without the shares that
 * `check` shows; what takes long (buckling, a life of use, the folded seat) is computed only where
 * all else holds. Not here: what other demands (clearance, handling) say; that is read from the edited text.
 */
import { type State, type StiffnessId, stiffnessOf, stiffnessTest } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Quantity } from '../catalogue.ts';
import { type Evaluation, evaluate, type Plan, plan, readQuantity } from '../evaluate.ts';
import { isAbsent } from '../family.ts';
import { unitFactor } from '../judge.ts';
import type { FrameResult } from '../run/frame.ts';
import type { Workspace } from '../workspace.ts';
import { rating, type TubeGroup } from './gauges.ts';
import { askedOf, type Held, stiffnessIn, useOf } from './held.ts';
import type { Choice, Look, Sizing } from './search.ts';

/** A miss by less is rounding of typed numbers, as in the ledger. */
const ROUNDING = 1e-9;

interface Computed {
  /** In each quantity's own unit; NaN where there is none. */
  readonly value: Float64Array;
  readonly reason: readonly (string | undefined)[];
  readonly ratio: readonly number[];
}
export interface Bench {
  /** kg of the whole bicycle; with the sections of group `drawn` as the file has them. */
  mass(choice: Choice, drawn?: number): number;
  /** Problem of the search: these demands, on the given quantities. */
  sizing(held: readonly Held[]): Sizing;
  /** Value of a quantity at a choice, in its unit; NaN, or why there is none. */
  value(choice: Choice, quantity: Quantity): { readonly value: number; readonly absent?: string };
  /** All that the frame's discipline finds at a choice, for notes and places. Not kept. */
  evaluation(choice: Choice): Evaluation;
  /** Frames computed so far. */
  readonly count: number;
}

/** SI: N/m or N·m/rad; NaN where the bicycle lacks a place that the measurement needs. */
export function measuredStiffness({ model, solver }: FrameResult, id: StiffnessId): number {
  const test = stiffnessTest(id, model.context);
  if (!test) return Number.NaN;
  const [solution] = solver.solve(test.group);
  return stiffnessOf(test, solution!, model.context) * (test.rotates ? 1e-3 : 1e3);
}

const QUICK: ReadonlySet<string> = new Set(['frame', 'stiffness', 'frame_joints', 'mass']);
const slow = (q: Quantity): boolean => q.family.needs.some((d) => !QUICK.has(d));

/**
 * @param quantities all that will be asked of it. @param forbidden says that a choice cannot be built.
 */
export function benchOf(
  w: Workspace,
  candidate: ResolvedCandidate,
  groups: readonly TubeGroup[],
  held: readonly Held[],
  quantities: readonly Quantity[],
  drawn: FrameResult,
  forbidden: (choice: Choice) => boolean,
): Bench {
  const instead = new Map<number, number>();
  const { model } = candidate;
  const changed: ResolvedCandidate = {
    ...candidate,
    model: { ...model, fill: (x, s) => model.fill(x, s, instead) },
  };
  const ids = (list: readonly Quantity[]): ReadonlySet<string> => new Set(list.map((q) => q.id));
  const planFor = (list: readonly Quantity[]): Plan =>
    plan(changed, w.setting, w.reference, ['drag', 'settle', 'ask'], ids(list));
  const quick = quantities.filter((q) => stiffnessIn(q.id) === undefined && !slow(q));
  const dear = quantities.filter(slow);
  const frameOnly = planFor(quick);
  const frame: Plan = { ...frameOnly, disciplines: new Set([...frameOnly.disciplines, 'frame'] as const) };
  const slowly = planFor(dear);
  const all = planFor(quantities);
  const state: State = model.newState();
  const put = (choice: Choice, without = -1): void => {
    instead.clear();
    groups.forEach((group, g) => {
      if (g === without) return;
      const { height_mm, width_mm, wall_mm } = group.gauges[choice[g]!]!;
      for (const m of group.members) {
        const { section } = model.members[m]!;
        instead.set(section.width, 1e-3 * width_mm);
        instead.set(section.height, 1e-3 * height_mm);
        instead.set(section.wall, 1e-3 * wall_mm);
      }
    });
  };
  const bicycle = (choice: Choice, without?: number): number => {
    put(choice, without);
    changed.model.fill(model.x, state);
    let sum = 0;
    for (let e = 0; e < state.mass.length; e += 10) sum += state.mass[e]!;
    return sum;
  };
  const lightest = groups.map(() => 0);
  const least = bicycle(lightest);
  const mass = groups.map((group, g) =>
    group.gauges.map((_, k) => bicycle(lightest.map((l, i) => (i === g ? k : l))) - least),
  );
  const strength = groups.map((group) => {
    const tube = drawn.model.bearing.tubes[group.members[0]!]!;
    return group.gauges.map((g) => rating(g, tube).strength);
  });

  const kept = new Map<string, Computed>();
  const keptDear = new Map<string, Computed>();
  let count = 0;
  const compute = (choice: Choice): Computed => {
    const key = choice.join();
    const known = kept.get(key);
    if (known) return known;
    put(choice);
    count++;
    const { results } = evaluate(frame, undefined, state);
    const value = new Float64Array(quantities.length).fill(Number.NaN);
    const reason = quantities.map((q, i): string | undefined => {
      if (slow(q)) return undefined;
      const id = stiffnessIn(q.id);
      if (id) {
        value[i] = results.frame ? measuredStiffness(results.frame, id) / unitFactor(q.family.unit) : Number.NaN;
        return (
          results.failures.frame ??
          (Number.isNaN(value[i]!) ? 'it lacks a place that this measurement needs' : undefined)
        );
      }
      const got = readQuantity(results, q);
      if (isAbsent(got)) return got.absent;
      value[i] = got / unitFactor(q.family.unit);
      return undefined;
    });
    const ratio = groups.map((group) =>
      results.frame ? Math.max(...group.members.flatMap((m) => held.map((h) => askedOf(h, results.frame!, m)))) : 1,
    );
    const made = { value, reason, ratio };
    kept.set(key, made);
    return made;
  };
  /** The same with what takes long. */
  const computeDear = (choice: Choice): Computed => {
    const quickly = compute(choice);
    if (dear.length === 0) return quickly;
    const key = choice.join();
    const known = keptDear.get(key);
    if (known) return known;
    put(choice);
    const e = evaluate(slowly, undefined, state);
    const value = quickly.value.slice();
    const reason = [...quickly.reason];
    quantities.forEach((q, i) => {
      const k = slow(q) ? e.quantities.findIndex((o) => o.id === q.id) : -1;
      if (k < 0) return;
      value[i] = e.value[k]! / unitFactor(q.family.unit);
      reason[i] = e.reason[k];
    });
    const made = { ...quickly, value, reason };
    keptDear.set(key, made);
    return made;
  };
  const at = (q: Quantity): number => quantities.findIndex((o) => o.id === q.id);

  const sizing = (wanted: readonly Held[]): Sizing => {
    const index = wanted.map((h) => at(h.quantity));
    const missOf = (h: Held, use: number): number => {
      const over = use - 1;
      return over > ROUNDING * Math.max(1, 1 / Math.max(Math.abs(h.limit), ROUNDING)) ? over : 0;
    };
    return {
      mass,
      strength,
      look(choice): Look {
        if (forbidden(choice))
          return { miss: Number.POSITIVE_INFINITY, use: wanted.map(() => 0), ratio: groups.map(() => 1) };
        const read = (c: Computed, slowly: boolean): { miss: number; use: number[] } => {
          let miss = 0;
          const use = wanted.map((h, i) => {
            if (slow(h.quantity) && !slowly) return 0;
            const value = c.value[index[i]!]!;
            if (Number.isNaN(value)) {
              miss = Number.POSITIVE_INFINITY;
              return 0;
            }
            const u = useOf(h, value);
            miss += missOf(h, u);
            return u;
          });
          return { miss, use };
        };
        const quickly = compute(choice);
        const first = read(quickly, false);
        // a demand tells of its worst tube only: where it misses, what the others lack counts too
        if (first.miss > 0)
          return {
            ...first,
            miss: first.miss + quickly.ratio.reduce((sum, r) => sum + Math.max(0, r - 1), 0),
            ratio: quickly.ratio,
          };
        if (!wanted.some((h) => slow(h.quantity))) return { ...first, ratio: quickly.ratio };
        return { ...read(computeDear(choice), true), ratio: quickly.ratio };
      },
    };
  };
  return {
    mass: bicycle,
    sizing,
    value(choice, quantity) {
      const i = at(quantity);
      const c = slow(quantity) ? computeDear(choice) : compute(choice);
      const absent = c.reason[i];
      return { value: c.value[i]!, ...(absent === undefined ? {} : { absent }) };
    },
    evaluation(choice) {
      put(choice);
      return evaluate(all, undefined, model.newState());
    },
    get count() {
      return count;
    },
  };
}
