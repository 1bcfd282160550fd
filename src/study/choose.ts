/**
 * The choice: all demands first, then wishes by weight.
 *
 * Candidates that hold every demand come first, by the weighted mean of their wishes (value.ts); those that miss some follow
 * by how many they miss. The lead over the next is firm when no weights within the brief's sweep turn it over; otherwise
 * it is too close to call, and says at which change of weights it flips.
 */
import type { LedgerRow } from './judge.ts';
import { type Duel, duel } from './value.ts';
import type { Judged } from './workspace.ts';

export interface Standing {
  readonly id: string;
  readonly name: string;
  readonly holdsAll: boolean;
  readonly score: number;
  readonly misses: readonly LedgerRow[];
  /** Of the demands that hold, the one with the least room, measured in its own spread; undefined when none holds. */
  readonly binding: { readonly row: LedgerRow; readonly sigmas: number } | undefined;
  /** Demands that hold by less than one spread of their figure: to be tested before building; the tightest first. */
  readonly tight: readonly { readonly row: LedgerRow; readonly sigmas: number }[];
  /** Wishes on which it falls behind the best of the others, the costliest first: points of the score lost. */
  readonly losesOn: readonly { readonly row: LedgerRow; readonly to: string; readonly points: number }[];
}

export interface Choice {
  readonly order: readonly Standing[];
  /** Undefined when no candidate holds all demands. */
  readonly build: string | undefined;
  readonly rival: (Duel & { readonly id: string }) | undefined;
  readonly tooClose: boolean;
  readonly sweep: number;
}

export function choose(judged: readonly Judged[], sweep: number): Choice {
  const order = judged.map((j) => standingOf(j, judged)).sort(better);
  const holders = order.filter((s) => s.holdsAll);
  const [first, second] = holders;
  const rival = first && second && { id: second.id, ...duelOf(judged, first.id, second.id) };
  return { order, build: first?.id, rival, tooClose: rival !== undefined && rival.flipsAt <= sweep, sweep };
}

const better = (a: Standing, b: Standing): number =>
  a.misses.length - b.misses.length || b.score - a.score || (a.id < b.id ? -1 : 1);

const wishes = (j: Judged): readonly LedgerRow[] => j.ledger.rows.filter((r) => r.kind === 'wish');

function duelOf(judged: readonly Judged[], a: string, b: string): Duel {
  const [ja, jb] = [a, b].map((id) => wishes(judged.find((j) => j.candidate.id === id)!));
  const preferences = ja!.map((r) => ({ best: r.limit, worst: r.worst!, weight: r.weight! }));
  return duel(
    preferences,
    ja!.map((r) => r.score!),
    jb!.map((r) => r.score!),
  );
}

function standingOf(j: Judged, all: readonly Judged[]): Standing {
  const demands = j.ledger.rows.filter((r) => r.kind === 'demand');
  const held = demands.filter((r) => r.holds && r.margin !== null);
  const room = held
    .map((row) => ({ row, sigmas: row.margin! / (row.spread! > 0 ? row.spread! : Number.NaN) }))
    .filter((x) => Number.isFinite(x.sigmas))
    .sort((a, b) => a.sigmas - b.sigmas);
  const total = wishes(j).reduce((sum, r) => sum + r.weight!, 0);
  const losesOn = wishes(j)
    .map((row, i) => {
      const best = all
        .filter((o) => o !== j)
        .map((o) => ({ id: o.candidate.id, score: wishes(o)[i]!.score! }))
        .reduce((x, y) => (y.score > x.score ? y : x), { id: '', score: Number.NEGATIVE_INFINITY });
      return { row, to: best.id, points: (row.weight! * (best.score - row.score!)) / total };
    })
    .filter((x) => x.points > 0.005)
    .sort((a, b) => b.points - a.points);
  return {
    id: j.candidate.id,
    name: j.candidate.name,
    holdsAll: j.ledger.holdsAll,
    score: j.ledger.score,
    misses: demands.filter((r) => !r.holds),
    binding: room[0],
    tight: room.filter((x) => x.sigmas < 1),
    losesOn,
  };
}
