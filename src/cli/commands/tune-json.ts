/** A sizing as JSON: units in the key names, null for what is not there, the same keys whatever the answer. */
import type { Binding, Tuned } from '#study';

const binding = (b: Binding) =>
  'none' in b
    ? { because: b.none }
    : {
        section: b.lighter,
        quantity: b.quantity,
        value: b.value,
        unit: b.unit,
        limit: b.limit,
        sense: b.sense,
        where: b.where ?? b.absent ?? null,
      };

export const tuneJson = (t: Tuned) => ({
  candidate: t.candidate.id,
  holds: t.holds,
  demands_from: t.usual ? 'default' : 'brief',
  demands: t.held.map((h) => ({
    quantity: h.quantity,
    sense: h.sense,
    limit: h.limit,
    unit: h.unit,
    now: h.now,
    tuned: h.value,
    holds: h.holds,
    where: h.where ?? null,
    ...(h.absent === undefined ? {} : { absent: h.absent }),
    because: h.because,
  })),
  not_demanded: t.beside,
  mass_now_kg: t.mass.now,
  mass_tuned_kg: t.mass.tuned,
  tubes: t.tubes.map((group) => ({
    tubes: group.tubes,
    material: group.material,
    section_now: group.section,
    section_tuned: group.gauge.section,
    from: group.gauge.from,
    changed: group.changed,
    mass_added_kg: group.added,
    one_step_lighter: binding(group.binding),
  })),
  left_alone: t.left.map(({ tubes, section, because }) => ({ tubes, section, because })),
  obstacles: t.obstacles.map((o) => ({
    quantity: o.quantity,
    value: o.value,
    unit: o.unit,
    limit: o.limit,
    sense: o.sense,
    where: o.where ?? null,
    tube: o.tube ?? null,
    section: o.section ?? null,
    because: o.because ?? null,
  })),
  too_weak: t.weak.map(({ words, section, times, because }) => ({
    tube: words,
    section,
    asked_over_borne: times,
    because,
  })),
  would_miss: t.broken.map((r) => ({
    quantity: r.quantity,
    value: r.value,
    unit: r.unit,
    limit: r.limit,
    sense: r.sense,
  })),
  notes: t.notes,
  curve: t.curve
    ? {
        quantity: t.curve.quantity.id,
        unit: t.curve.quantity.family.unit,
        now: Number.isNaN(t.stiffnessNow) ? null : t.stiffnessNow,
        absent: t.curve.absent ?? null,
        points: t.curve.points.map((p) => ({
          at_least: p.level,
          value: p.value,
          mass_kg: p.mass,
          sections: Object.fromEntries(
            t.groups.flatMap((g, i) => g.tubes.map((name) => [name, g.gauges[p.choice[i]!]!.section])),
          ),
        })),
      }
    : null,
  frames_computed: t.count,
});
