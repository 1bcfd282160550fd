/**
 * Gauges that cannot be had together, or that a proof showed to break a demand. Only other outside diameters come here: a wall
 * changes nothing outside its tube.
 */
import type { FrameResult } from '../run/frame.ts';
import { rating, type TubeGroup } from './gauges.ts';
import type { Choice } from './search.ts';

/** A tube that is welded to the side of another is at most as wide; mm. */
const SAME = 1e-6;
/** Less than any two diameters of a list differ by, mm. */
const NEXT = 0.01;

export class Bans {
  readonly #groups: readonly TubeGroup[];
  /** Outside size that each group may not reach, downward and upward, mm. */
  readonly #above: number[];
  readonly #below: number[];
  readonly #welds: readonly (readonly [tube: number, chord: number])[];
  readonly #groupOf: ReadonlyMap<number, number>;
  readonly #drawn: FrameResult;

  constructor(groups: readonly TubeGroup[], drawn: FrameResult) {
    this.#groups = groups;
    this.#drawn = drawn;
    this.#above = groups.map(() => Number.POSITIVE_INFINITY);
    this.#below = groups.map(() => 0);
    this.#groupOf = new Map(groups.flatMap((group, g) => group.members.map((m) => [m, g] as const)));
    const { tubes } = drawn.model.bearing;
    this.#welds = drawn.model.built.welds
      .map((w) => [w.tube, w.chord] as const)
      // what is drawn wider than what it stands on stays possible
      .filter(([a, b]) => tubes[a]!.ends[0].height <= tubes[b]!.ends[0].height + SAME);
  }

  /** Outside height at a choice, mm. */
  #height(tube: number, choice: Choice): number {
    const g = this.#groupOf.get(tube);
    return g === undefined
      ? this.#drawn.model.bearing.tubes[tube]!.ends[0].height
      : this.#groups[g]!.gauges[choice[g]!]!.height_mm;
  }

  forbids(choice: Choice): boolean {
    return (
      choice.some((k, g) => {
        const h = this.#groups[g]!.gauges[k]!.height_mm;
        return h >= this.#above[g]! - SAME || h <= this.#below[g]! + SAME;
      }) || this.#welds.some(([a, b]) => this.#height(a, choice) > this.#height(b, choice) + SAME)
    );
  }

  /** Outsides stay as in this choice from now on. */
  freeze(choice: Choice): void {
    choice.forEach((k, g) => {
      const h = this.#groups[g]!.gauges[k]!.height_mm;
      this.#above[g] = h + NEXT;
      this.#below[g] = h - NEXT;
    });
  }

  /** Groups whose outside is not the drawn one. */
  moved(choice: Choice): number[] {
    return choice.flatMap((_, g) => (Math.abs(this.#change(choice, g)) > SAME ? [g] : []));
  }
  #change(choice: Choice, g: number): number {
    const group = this.#groups[g]!;
    return group.gauges[choice[g]!]!.height_mm - this.#drawn.model.bearing.tubes[group.members[0]!]!.ends[0].height;
  }

  /** Takes back the outsides of these groups for good, and all that are farther from the drawn ones. */
  ban(choice: Choice, groups: readonly number[]): void {
    for (const g of groups) {
      const h = this.#groups[g]!.gauges[choice[g]!]!.height_mm;
      if (this.#change(choice, g) > 0) this.#above[g] = h;
      else this.#below[g] = h;
    }
  }
  /** Of some groups the one whose outside moved farthest. */
  farthest(choice: Choice, groups: readonly number[]): number {
    return groups.reduce((a, b) => (Math.abs(this.#change(choice, b)) > Math.abs(this.#change(choice, a)) ? b : a));
  }
}

/** The drawn gauge, or where no list has it the first that is as strong. */
export function nearestGauge(group: TubeGroup, drawn: FrameResult): number {
  if (group.now >= 0) return group.now;
  const tube = drawn.model.bearing.tubes[group.members[0]!]!;
  const [end] = tube.ends;
  const own = { section: '', height_mm: end.height, width_mm: end.width, wall_mm: end.wall, from: '' };
  const least = rating(own, tube).strength;
  const found = group.gauges.findIndex((g) => rating(g, tube).strength >= least && g.height_mm === end.height);
  return found < 0 ? group.gauges.length - 1 : found;
}
