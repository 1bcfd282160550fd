/**
 * Sizing of one candidate: gauges of least mass with the demands on its frame held, why each tube is as it is, and the curve of
 * mass against stiffness.
 *
 * The search works on the model; its answer is then written into the text, read again and judged against all demands: one that
 * held and would miss is told. With other outsides the change that causes it is taken back and the search repeated.
 */
import { STIFFNESS_IDS, type StiffnessId } from '#kernel';
import type { ResolvedCandidate } from '#project';
import { findQuantity, type Quantity } from '../catalogue.ts';
import { namesFor } from '../evaluate.ts';
import { type LedgerRow, unitFactor } from '../judge.ts';
import { type FrameResult, runFrame } from '../run/frame.ts';
import { type Judged, judgeCandidate, type Workspace } from '../workspace.ts';
import { Bans, nearestGauge } from './bans.ts';
import { type Bench, benchOf, measuredStiffness } from './bench.ts';
import { type Curve, curveOf } from './curve.ts';
import { type Proof, prove, type SectionEdit, writeSections } from './edit.ts';
import { type Gauge, type Sizable, sizable, type TubeGroup } from './gauges.ts';
import { type Held, heldOf } from './held.ts';
import {
  type Binding,
  bindingOf,
  type Figure,
  figureOf,
  type Obstacle,
  obstaclesOf,
  type Weak,
  weakOf,
} from './reasons.ts';
import { type Choice, type Found, type Searching, search, strongest } from './search.ts';

export interface TuneOptions {
  /** Other outside diameters of the stock lists too. */
  readonly outside?: boolean;
  /** Stiffness of the curve; no curve when left out. */
  readonly against?: StiffnessId;
}
export interface Tuning {
  readonly doing: 'sizing' | 'proof' | 'curve';
  /** Frames computed so far. */
  readonly count: number;
}
export interface TunedTubes {
  readonly tubes: readonly string[];
  readonly words: string;
  readonly material: string;
  /** Section as the file has it, and the gauge chosen. */
  readonly section: string;
  readonly gauge: Gauge;
  readonly changed: boolean;
  /** kg that the choice adds to the bicycle. */
  readonly added: number;
  readonly binding: Binding;
}
export interface HeldFigure extends Figure {
  readonly because: string;
  /** As the file stands. */
  readonly now: number | null;
}
export interface Tuned {
  readonly candidate: ResolvedCandidate;
  /** The brief demands nothing of the frame: strength in service and in tests is held. */
  readonly usual: boolean;
  readonly held: readonly HeldFigure[];
  /** Fatigue where nothing demands it: a rank that lighter gauges lower. */
  readonly beside: readonly { readonly quantity: string; readonly now: number | null; readonly tuned: number | null }[];
  /** All of them hold with these gauges, and no other demand that held misses. */
  readonly holds: boolean;
  readonly tubes: readonly TunedTubes[];
  readonly left: Sizable['left'];
  /** kg of the bicycle. */
  readonly mass: { readonly now: number; readonly tuned: number };
  /** Where not all demands hold: what is in the way of each at the nearest gauges. */
  readonly obstacles: readonly Obstacle[];
  /** … and every tube that is too weak there. */
  readonly weak: readonly Weak[];
  /** Demands that held and would miss. */
  readonly broken: readonly LedgerRow[];
  /** What was decided on the way, in words. */
  readonly notes: readonly string[];
  readonly edits: readonly SectionEdit[];
  /** The changed text, proved; undefined where nothing changes or nothing holds. */
  readonly source: string | undefined;
  readonly curve: Curve | undefined;
  /** Stiffness of the curve as the file stands, in its unit. */
  readonly stiffnessNow: number;
  readonly groups: readonly TubeGroup[];
  /** Frames computed. */
  readonly count: number;
}

export const USUAL_AGAINST: StiffnessId = 'head_torsion';
export const stiffnessQuantities = (): readonly string[] => STIFFNESS_IDS.map((id) => `frame.${id}`);

/** Demands that hold fatigue. */
const FATIGUE = /reserve|damage/;
/** Rounds of taking outside diameters back. */
const ROUNDS = 12;
const BUTTED = 'butted tubes of the lists are thick at both ends, which no section of the files can say: left out';

/** @returns the sizing, or why this candidate cannot be sized. */
export function* tune(
  w: Workspace,
  candidate: ResolvedCandidate,
  options: TuneOptions = {},
): Generator<Tuning, Tuned | { readonly refused: string }> {
  const drawn = drawnFrame(w, candidate);
  if ('refused' in drawn) return drawn;
  const all = sizable(candidate, drawn, options.outside ?? false);
  const { groups } = all;
  const { held, usual } = heldOf(w, candidate);
  const against = options.against && quantityOf(w, candidate, `frame.${options.against}`);
  const beside = held.some((h) => FATIGUE.test(h.quantity.id)) ? [] : [quantityOf(w, candidate, 'frame.least_reserve')];
  const only = new Set([
    ...w.brief.demands.map((d) => d.quantity),
    ...[...held.map((h) => h.quantity), ...beside].map((q) => q.id),
    'mass.total',
  ]);
  const before = judgeCandidate(w, candidate, ['drag', 'settle', 'ask'], only);
  const known = held.filter((h) => valueIn(before, h.quantity) !== null);

  const bans = new Bans(groups, drawn);
  const quantities = [
    ...new Map(
      [...held.map((h) => h.quantity), ...beside, ...(against ? [against] : [])].map((q) => [q.id, q]),
    ).values(),
  ];
  const bench = benchOf(w, candidate, groups, known, quantities, drawn, (choice) => bans.forbids(choice));
  const start = groups.map((group) => nearestGauge(group, drawn));
  const job = { w, candidate, groups, before, only, bans, bench, start, known };
  const { best, proof, taken } = yield* settle(job);
  const clean = proof ? proof.broken.length === 0 && proof.problems.length === 0 : true;
  const curve = against && (yield* told('curve', bench, curveFor(job, best, against)));

  const e = bench.evaluation(best.choice);
  const rows = held.map((h): HeldFigure => {
    const now = valueIn(before, h.quantity);
    return { ...figureOf(h, e, bench.value(best.choice, h.quantity)), because: h.because, now };
  });
  const p = bench.sizing(known);
  const massNow = massOfBicycle(before);
  const massTuned = bench.mass(best.choice);
  return {
    candidate,
    usual,
    held: rows,
    beside: beside.map((q) => {
      const tuned = bench.value(best.choice, q).value;
      return { quantity: q.id, now: valueIn(before, q), tuned: Number.isNaN(tuned) ? null : tuned };
    }),
    holds: clean && rows.every((r) => r.holds),
    tubes: groups.map((group, g): TunedTubes => {
      const gauge = group.gauges[best.choice[g]!]!;
      return {
        tubes: group.tubes,
        words: group.words,
        material: group.material,
        section: group.section,
        gauge,
        changed: gauge.section !== group.section,
        added: bench.mass(best.choice) - bench.mass(best.choice, g),
        binding: bindingOf(bench, p, known, groups, best.choice, g),
      };
    }),
    left: all.left,
    mass: { now: massNow, tuned: massTuned },
    obstacles: best.holds ? [] : obstaclesOf(bench, known, all, best.choice),
    weak: best.holds ? [] : weakOf(bench, known, all, best.choice),
    broken: proof?.broken ?? [],
    notes: [
      BUTTED,
      ...(options.outside && against ? ['the curve keeps the outsides chosen and moves walls'] : []),
      ...taken,
      ...(proof?.problems ?? []).map((problem) => `the changed text has a problem: ${problem.message}`),
    ],
    edits: editsOf(groups, best.choice),
    source: best.holds && clean ? proof?.source : undefined,
    curve,
    stiffnessNow:
      options.against && against
        ? measuredStiffness(drawn, options.against) / unitFactor(against.family.unit)
        : Number.NaN,
    groups,
    count: bench.count,
  };
}

function drawnFrame(w: Workspace, candidate: ResolvedCandidate): FrameResult | { readonly refused: string } {
  const state = candidate.model.newState();
  candidate.model.fill(candidate.model.x, state);
  try {
    return runFrame(candidate, state, w.setting);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { refused: `the frame of ${candidate.id} cannot be computed: ${error.message}` };
  }
}

function quantityOf(w: Workspace, candidate: ResolvedCandidate, id: string): Quantity {
  const found = findQuantity(id, namesFor(candidate, w.setting));
  if (!('quantity' in found)) throw new Error(`the catalogue has no ${id}`);
  return found.quantity;
}

/** In the quantity's unit; null where there is none. */
function valueIn(j: Judged, q: Quantity): number | null {
  const i = j.evaluation.quantities.findIndex((o) => o.id === q.id);
  return i < 0 || j.evaluation.reason[i] !== undefined ? null : j.evaluation.value[i]! / unitFactor(q.family.unit);
}
function massOfBicycle(j: Judged): number {
  const i = j.evaluation.quantities.findIndex((q) => q.id === 'mass.total');
  return j.evaluation.value[i]!;
}

/** Only tubes whose gauge is not the drawn one. */
const editsOf = (groups: readonly TubeGroup[], choice: Choice, only?: number): SectionEdit[] =>
  groups.flatMap((group, g) => {
    const { section } = group.gauges[choice[g]!]!;
    if (section === group.section || (only !== undefined && only !== g)) return [];
    return group.members.map((member) => ({ member, section }));
  });

function* told<T>(doing: Tuning['doing'], bench: Bench, work: Generator<Searching, T>): Generator<Tuning, T> {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    yield { doing, count: bench.count };
  }
}

interface Job {
  readonly w: Workspace;
  readonly candidate: ResolvedCandidate;
  readonly groups: readonly TubeGroup[];
  readonly before: Judged;
  readonly only: ReadonlySet<string>;
  readonly bans: Bans;
  readonly bench: Bench;
  readonly start: Choice;
  readonly known: readonly Held[];
}

/** Search and proof, again without the outsides that a proof spoke against. */
function* settle(job: Job): Generator<Tuning, { best: Found; proof: Proof | undefined; taken: readonly string[] }> {
  const { bench, bans, groups, start, known } = job;
  const taken: string[] = [];
  for (let round = 0; ; round++) {
    const best = yield* told('sizing', bench, search(bench.sizing(known), { starts: [start] }));
    const edits = editsOf(groups, best.choice);
    if (!best.holds || edits.length === 0) return { best, proof: undefined, taken };
    yield { doing: 'proof', count: bench.count };
    const proof = proved(job, edits);
    const moved = bans.moved(best.choice);
    if (sound(proof) || moved.length === 0 || round === ROUNDS) return { best, proof, taken };
    const guilty: number[] = [];
    for (const g of moved) {
      yield { doing: 'proof', count: bench.count };
      if (!sound(proved(job, editsOf(groups, best.choice, g)))) guilty.push(g);
    }
    const banned = guilty.length > 0 ? guilty : [bans.farthest(best.choice, moved)];
    bans.ban(best.choice, banned);
    const why = proof.broken[0]?.quantity ?? proof.problems[0]?.message ?? '';
    for (const g of banned)
      taken.push(
        `${groups[g]!.gauges[best.choice[g]!]!.section} for ${groups[g]!.words}: taken back, it misses ${why}`,
      );
  }
}
const sound = (proof: Proof): boolean => proof.broken.length === 0 && proof.problems.length === 0;

function proved({ w, before, candidate, only }: Job, edits: readonly SectionEdit[]): Proof {
  const edit = writeSections(w, candidate, edits);
  if (edit.source === undefined) return unread(before, edit.refused);
  const proof = prove(w, before, edit.source, candidate.id, only);
  return 'refused' in proof ? unread(before, proof.refused) : proof;
}
/** A text that cannot be made or read is a problem of the answer, told with it. */
const unread = (judged: Judged, message: string): Proof => ({
  source: '',
  judged,
  broken: [],
  problems: [
    {
      code: 'section.syntax',
      severity: 'error',
      file: judged.candidate.file,
      path: '',
      line: 0,
      column: 0,
      length: 0,
      message,
    },
  ],
});

function* curveFor(job: Job, best: Found, quantity: Quantity): Generator<Searching, Curve> {
  const { bench, groups, bans, known } = job;
  if (!best.holds) return { quantity, points: [], absent: 'no gauges hold the demands' };
  // clearances were judged for these outsides and no others
  bans.freeze(best.choice);
  // the strongest gauges that may be had together, group by group from the lightest that hold
  const ends = strongest(bench.sizing(known));
  let stiff = best.choice;
  groups.forEach((_, g) => {
    for (let k = ends[g]!; k > best.choice[g]!; k--) {
      const next = stiff.map((c, i) => (i === g ? k : c));
      if (bans.forbids(next)) continue;
      stiff = next;
      break;
    }
  });
  return yield* curveOf(bench, known, quantity, best.choice, stiff);
}
