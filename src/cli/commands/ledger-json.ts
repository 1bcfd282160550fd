/** Ledgers, choices and sheets as JSON. */
import { type Choice, type Cure, type Judged, type LedgerRow, type Rank, unitFactor } from '#study';

const row = (r: LedgerRow) => ({
  quantity: r.quantity,
  kind: r.kind,
  value: r.value,
  unit: r.unit,
  limit: r.limit,
  sense: r.sense,
  margin: r.margin,
  holds: r.holds,
  spread: r.spread,
  ...(r.score === undefined ? {} : { score: r.score, weight: r.weight, worst: r.worst }),
  ...(r.absent ? { absent: r.absent } : {}),
  ...(r.note ? { note: r.note } : {}),
  ...(r.outside ? { outside: r.outside } : {}),
  because: r.because,
});

export const candidateJson = (j: Judged) => ({
  id: j.candidate.id,
  name: j.candidate.name,
  holds_all: j.ledger.holdsAll,
  score: j.ledger.score,
  ledger: j.ledger.rows.map(row),
});

/** Every computed quantity, in its own unit. */
export const quantitiesJson = (j: Judged) =>
  j.evaluation.quantities.map((q, i) => ({
    quantity: q.id,
    value: j.evaluation.reason[i] === undefined ? j.evaluation.value[i]! / unitFactor(q.family.unit) : null,
    unit: q.family.unit,
    ...(j.evaluation.reason[i] === undefined ? {} : { absent: j.evaluation.reason[i] }),
  }));

const rank = (r: Rank, cures: readonly Cure[]) => ({
  id: r.id,
  holds_all: r.holdsAll,
  score: r.score,
  misses: r.misses.map((m) => m.quantity),
  binding: r.binding && { quantity: r.binding.row.quantity, margin: r.binding.row.margin, sigmas: r.binding.sigmas },
  test_first: r.tight.map((t) => ({ quantity: t.row.quantity, margin: t.row.margin, sigmas: t.sigmas })),
  loses_on: r.losesOn.map((l) => ({ quantity: l.row.quantity, to: l.to, points: l.points })),
  cures: cures.map((c) => ({ dimension: c.dimension, from: c.from, to: c.to, demands_left: c.left, after: c.after })),
});

export const choiceJson = (choice: Choice, cures: ReadonlyMap<string, readonly Cure[]>) => ({
  build: choice.build ?? null,
  too_close: choice.tooClose,
  sweep: choice.sweep,
  rival: choice.rival
    ? {
        id: choice.rival.id,
        lead: choice.rival.lead,
        flips_at: Number.isFinite(choice.rival.flipsAt) ? choice.rival.flipsAt : null,
      }
    : null,
  order: choice.order.map((r) => rank(r, cures.get(r.id) ?? [])),
});
