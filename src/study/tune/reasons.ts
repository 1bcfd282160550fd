/** Why each tube is the size that it is: what misses first with the next lighter gauge. And what stands in the way where nothing holds. */
import { frameCase } from '#kernel';
import type { Evaluation } from '../evaluate.ts';
import type { Bench } from './bench.ts';
import { ORDERED, type Sizable, type TubeGroup } from './gauges.ts';
import { askedOf, decidedBy, type Held, useOf } from './held.ts';
import { type Choice, type Sizing, strongest } from './search.ts';

/** One demand at one choice. */
export interface Figure {
  readonly quantity: string;
  readonly title: string;
  readonly unit: string;
  readonly sense: Held['sense'];
  readonly limit: number;
  readonly value: number | null;
  readonly holds: boolean;
  /** Why there is no figure. */
  readonly absent?: string;
  /** Load case and place, in words. */
  readonly where?: string;
}
export type Binding =
  /** With the next lighter gauge this demand misses. */
  | ({ readonly lighter: string } & Figure)
  /** There is none, or none that can be built. */
  | { readonly none: string };

export interface Obstacle extends Figure {
  /** Tube in which it happens, its section, and why that cannot be made stronger. */
  readonly tube?: string;
  readonly section?: string;
  readonly because?: string;
}

export function figureOf(h: Held, e: Evaluation, read: { value: number; absent?: string }): Figure {
  const { quantity } = h;
  const { id, family, slot } = quantity;
  const has = !Number.isNaN(read.value);
  const where = has && family.needs.every((d) => !e.results.failures[d]) ? whereOf(h, e, slot) : undefined;
  return {
    quantity: id,
    title: family.title,
    unit: family.unit,
    sense: h.sense,
    limit: h.limit,
    value: has ? read.value : null,
    holds: has && useOf(h, read.value) <= 1 + 1e-9,
    ...(read.absent === undefined ? {} : { absent: read.absent }),
    ...(where ? { where } : {}),
  };
}
/** The note of a stiffness needs shares that sizing does not compute. */
function whereOf({ quantity: { id, family } }: Held, e: Evaluation, slot: string): string | undefined {
  if (family.needs.includes('stiffness') && !e.results.stiffness) return undefined;
  const note = family.note?.(e.results, slot);
  const by = decidedBy(id, e.results);
  // a demand on one case does not name it in its note
  return note && by && id.includes(by.frameCase) ? `${frameCase(by.frameCase).title.toLowerCase()}: ${note}` : note;
}

/** The worst miss of a choice: the demand that is farthest over its room. */
export function worstMiss(bench: Bench, held: readonly Held[], choice: Choice): Figure | undefined {
  const e = bench.evaluation(choice);
  let worst: { figure: Figure; use: number } | undefined;
  for (const h of held) {
    const read = bench.value(choice, h.quantity);
    const figure = figureOf(h, e, read);
    const use = figure.value === null ? Number.POSITIVE_INFINITY : useOf(h, figure.value);
    if (!figure.holds && (!worst || use > worst.use)) worst = { figure, use };
  }
  return worst?.figure;
}

export function bindingOf(
  bench: Bench,
  p: Sizing,
  held: readonly Held[],
  groups: readonly TubeGroup[],
  choice: Choice,
  g: number,
): Binding {
  const k = choice[g]! - 1;
  const { gauges } = groups[g]!;
  const next = gauges[k];
  if (!next)
    return {
      none:
        gauges[0]!.from === ORDERED
          ? 'nothing misses; the series ends here, at od/50 or, for light alloys, at 1 mm'
          : 'nothing misses; its list has no lighter one',
    };
  const lighter = choice.map((c, i) => (i === g ? k : c));
  if (p.look(lighter).miss === Number.POSITIVE_INFINITY && !worstMiss(bench, held, lighter))
    return { none: `${next.section} does not fit what it meets` };
  const figure = worstMiss(bench, held, lighter);
  return figure ? { lighter: next.section, ...figure } : { none: `${next.section} is no lighter` };
}

/** Every demand that the nearest choice misses, with the tube that is in the way. */
export function obstaclesOf(
  bench: Bench,
  held: readonly Held[],
  { groups, left }: Sizable,
  choice: Choice,
): readonly Obstacle[] {
  const e = bench.evaluation(choice);
  const ends = strongest(bench.sizing(held));
  return held.flatMap((h): Obstacle[] => {
    const figure = figureOf(h, e, bench.value(choice, h.quantity));
    if (figure.holds) return [];
    const tube = figure.value === null ? undefined : decidedBy(h.quantity.id, e.results)?.tube;
    const name = tube === undefined ? undefined : e.results.frame!.model.bearing.tubes[tube]!.name;
    const g = groups.findIndex((group) => name !== undefined && group.tubes.includes(name));
    if (g >= 0) {
      const { words, gauges } = groups[g]!;
      const k = choice[g]!;
      const top = k === ends[g];
      return [
        {
          ...figure,
          tube: words,
          section: gauges[k]!.section,
          because: top ? 'the strongest gauge that there is' : 'a stronger gauge misses more, here or elsewhere',
        },
      ];
    }
    const alone = left.find((l) => name !== undefined && l.tubes.includes(name));
    if (alone)
      return [{ ...figure, tube: alone.words, section: alone.section, because: `left alone: ${alone.because}` }];
    return [
      { ...figure, ...(name === undefined ? {} : { tube: name, because: 'a bought part, not a tube of the file' }) },
    ];
  });
}

/** A tube that is too weak at the nearest gauges. */
export interface Weak {
  readonly words: string;
  readonly section: string;
  /** What is asked of its strength, over what it has. */
  readonly times: number;
  /** Why it is not made stronger. */
  readonly because: string;
}

/** All tubes that are too weak at a choice, the weakest first. */
export function weakOf(
  bench: Bench,
  held: readonly Held[],
  { groups, left }: Sizable,
  choice: Choice,
): readonly Weak[] {
  const { results } = bench.evaluation(choice);
  const { frame } = results;
  if (!frame) return [];
  const { tubes } = frame.model.bearing;
  const asked = (names: readonly string[]): number =>
    Math.max(
      0,
      ...tubes.flatMap((tube, t) => (names.includes(tube.name) ? held.map((h) => askedOf(h, frame, t)) : [])),
    );
  const ends = strongest(bench.sizing(held));
  const sized = groups.map((group, g): Weak => {
    const k = choice[g]!;
    const top = k === ends[g];
    const because = top ? 'the strongest gauge that there is' : 'a stronger gauge misses more, here or elsewhere';
    return { words: group.words, section: group.gauges[k]!.section, times: asked(group.tubes), because };
  });
  const alone = left.map(
    (l): Weak => ({ words: l.words, section: l.section, times: asked(l.tubes), because: `left alone: ${l.because}` }),
  );
  return [...sized, ...alone].filter((w) => w.times > 1 + 1e-9).sort((a, b) => b.times - a.times);
}
