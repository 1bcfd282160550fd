/**
 * Which tubes can be sized, in which groups, and the gauges that each may have; which are left alone, and why.
 *
 * Tubes that are one on the other side (names that end in `_left` and `_right`, or mirrored in the middle plane) with the same
 * section and material are one group. Outsides stay as drawn, so that nothing else moves; walls are those of the stock lists
 * for that outside. Where no list has more than one wall for it (most sizes of light alloy, all oval and rectangular tubes)
 * the series of preferred walls counts, and the tube is drawn to order. With `outside`, round tubes may have other diameters of
 * their lists too. Butted tubes of the lists are thick at both ends: the files' one taper cannot say that, so they are left out.
 */
import { type FrameTube, tubeProperties } from '#kernel';
import { parseUnit, type ResolvedCandidate, stockFor, wallSeries } from '#project';
import type { FrameResult } from '../run/frame.ts';
import { placeWords } from '../run/frame-words.ts';
import { type Nest, nests } from './nested.ts';

export interface Gauge {
  /** As the file writes it: `round 28 x 1.5 mm`. */
  readonly section: string;
  readonly height_mm: number;
  readonly width_mm: number;
  readonly wall_mm: number;
  /** Name of its stock list, or `drawn to order`, or `as drawn`. */
  readonly from: string;
}
export interface TubeGroup {
  /** `rear.seat_stay_left`, … as the program names them. */
  readonly tubes: readonly string[];
  /** In words: `seat stays of rear`. */
  readonly words: string;
  /** Members of the model; their numbers are those of the tubes of the beam model. */
  readonly members: readonly number[];
  readonly material: string;
  /** As the file has it, and its index among the gauges; −1 where no list has it. */
  readonly section: string;
  readonly now: number;
  /** The lightest first. */
  readonly gauges: readonly Gauge[];
}
export interface LeftAlone {
  readonly tubes: readonly string[];
  readonly words: string;
  readonly section: string;
  readonly because: string;
}
export interface Sizable {
  readonly groups: readonly TubeGroup[];
  readonly left: readonly LeftAlone[];
}

/** Where the gauges come from when no list has them. */
export const ORDERED = 'drawn to order';

/** A tube whose stress never passes this share of its strength, nor its range this share of what is allowed, is idle. */
const IDLE = 0.02;
/** How far another outside diameter may lie from the drawn one, as shares. */
const NARROWEST = 0.7;
const WIDEST = 1.45;
/** Bores that differ by less are one bore, mm. */
const BORE = 0.11;
/** Points mirrored within this are mirrored, m. */
const MIRROR = 5e-4;
const SAME = 1e-6;

/** @param frame of the candidate as its file draws it. */
export function sizable(candidate: ResolvedCandidate, frame: FrameResult, outside: boolean): Sizable {
  const { members } = candidate.model;
  const { tubes } = frame.model.bearing;
  const nested = nests(tubes);
  const groups: TubeGroup[] = [];
  const left: LeftAlone[] = [];
  const done = new Set<number>();
  members.forEach((member, m) => {
    if (done.has(m)) return;
    const twin = members.findIndex((_, o) => o > m && !done.has(o) && mirrored(candidate, frame, m, o));
    const own = twin < 0 ? [m] : [m, twin];
    for (const i of own) done.add(i);
    const names = own.map((i) => members[i]!.name);
    const about = { tubes: names, words: wordsOf(names), section: sectionText(candidate, m) };
    const why = own.map((i) => fixed(candidate, frame, nested, i)).find((reason) => reason !== undefined);
    if (why !== undefined) {
      left.push({ ...about, because: why });
      return;
    }
    const gauges = gaugesOf(candidate, tubes, nested, m, outside);
    if (typeof gauges === 'string') left.push({ ...about, because: gauges });
    else
      groups.push({
        ...about,
        members: own,
        material: member.material,
        now: gauges.findIndex((g) => g.section === about.section),
        gauges,
      });
  });
  return { groups, left };
}

export function sectionText(candidate: ResolvedCandidate, m: number): string {
  const [, body, , index] = candidate.paths.members[m]!;
  return candidate.data.bodies[String(body)]!.tubes![Number(index)]!.section;
}

/** `seat stays of rear` for both sides. */
function wordsOf(names: readonly string[]): string {
  const all = names.map(placeWords);
  if (all.length === 1) return all[0]!;
  const both = all.map((w) => w.replace(/(\w+) (left|right)\b/, '$1s').replace('foots', 'feet'));
  return both[0] === both[1] ? both[0]! : all.join(' and ');
}

const otherSide = (name: string): string =>
  name.replace(/(left|right)(?!.*(left|right))/, (side) => (side === 'left' ? 'right' : 'left'));

/** The same section and material, and the same on the other side by name or by place. */
function mirrored(candidate: ResolvedCandidate, frame: FrameResult, a: number, b: number): boolean {
  const { members } = candidate.model;
  const [x, y] = [members[a]!, members[b]!];
  if (x.material !== y.material || sectionText(candidate, a) !== sectionText(candidate, b)) return false;
  if (otherSide(x.name) === y.name) return true;
  const [p, q] = [a, b].map((m) => frame.model.bearing.tubes[m]!.points);
  if (p!.length !== q!.length) return false;
  const near = (i: number, j: number): boolean =>
    [1, -1, 1].every((sign, k) => Math.abs(p![i]![k]! - sign * q![j]![k]!) < 1e3 * MIRROR);
  const last = p!.length - 1;
  return p!.every((_, i) => near(i, i)) || p!.every((_, i) => near(i, last - i));
}

/** Why this tube cannot be sized at all. */
function fixed(
  candidate: ResolvedCandidate,
  frame: FrameResult,
  nested: readonly Nest[],
  m: number,
): string | undefined {
  const { section } = candidate.model.members[m]!;
  const slots = [section.height, section.width, section.wall];
  const reads = [...new Set(slots.flatMap((s) => candidate.slots[s]!.reads))];
  const { dimensions } = candidate.model.top.names;
  if (reads.length > 0)
    return `its section follows ${reads.map((r) => dimensions[r] ?? 'another value').join(', ')}: change that`;
  if (section.endWall >= 0) return 'it tapers, and the lists have plain tubes';
  if (!WALL.test(sectionText(candidate, m))) return 'its wall is a formula, not a number';
  const tube = frame.model.bearing.tubes[m]!;
  const [end] = tube.ends;
  if (end.wall > Math.min(end.height, end.width) / 2 - 1e-6) return 'it is a solid bar';
  const inside = nested.filter((n) => n.outer === m).map((n) => placeWords(frame.model.bearing.tubes[n.inner]!.name));
  if (inside.length > 0 && !(tube.shape === 'round')) return `${inside.join(', ')} runs in it: its bore stays`;
  if (idle(frame, m)) return 'no load case works it';
  return undefined;
}

function idle(frame: FrameResult, tube: number): boolean {
  for (const c of frame.cases.values())
    if (c.useOfTube[tube]! > IDLE || (c.reserveOfTube?.[tube] ?? Number.POSITIVE_INFINITY) < 1 / IDLE) return false;
  return true;
}

/** `round 38 x ` `2` ` mm`. */
const WALL = /^(.*(?:\s[x×]\s+|\d[x×]))(\d+\.?\d*|\.\d+)(\s*)([a-z]*)\s*$/;

/** The section's text with another wall, mm. */
function withWall(text: string, wall_mm: number): string {
  const [, before = '', , gap = '', unit = ''] = WALL.exec(text)!;
  const factor = parseUnit(unit === '' ? 'mm' : unit)?.factor ?? 1e-3;
  return `${before}${Number(((1e-3 * wall_mm) / factor).toPrecision(6))}${unit === '' ? ' mm' : gap + unit}`;
}

/** Gauges that the tube may have, the lightest first; or why there is no choice. */
function gaugesOf(
  candidate: ResolvedCandidate,
  tubes: readonly FrameTube[],
  nested: readonly Nest[],
  m: number,
  outside: boolean,
): readonly Gauge[] | string {
  const { material } = candidate.model.members[m]!;
  const text = sectionText(candidate, m);
  const tube = tubes[m]!;
  const { height, width, wall } = tube.ends[0];
  const stock = stockFor(material);
  if (stock.length === 0) return `no stock list has ${material}`;
  const plain = tube.shape === 'round' ? stock.filter((t) => !t.butted) : [];
  const carried = nested.filter((n) => n.outer === m).map((n) => placeWords(tubes[n.inner]!.name));
  const within = nested.some((n) => n.inner === m);
  const made: Gauge[] = [];
  const add = (h: number, w: number, t: number, from: string): void => {
    const own = Math.abs(h - height) < SAME && Math.abs(w - width) < SAME;
    const same = own && Math.abs(t - wall) < SAME;
    const section = same ? text : own ? withWall(text, t) : `round ${h} x ${t} mm`;
    if (!made.some((g) => g.section === section)) made.push({ section, height_mm: h, width_mm: w, wall_mm: t, from });
  };
  if (carried.length === 0) {
    const listed = plain.filter((t) => Math.abs(t.od_mm - height) < SAME);
    if (new Set(listed.map((t) => t.wall_mm)).size > 1) for (const t of listed) add(height, width, t.wall_mm, t.list);
    else
      for (const t of wallSeries(material, Math.min(height, width), Math.max(height, width)))
        add(height, width, t, listed.find((s) => s.wall_mm === t)?.list ?? ORDERED);
    const thickest = Math.max(...made.map((g) => g.wall_mm));
    if (thickest < wall - SAME) {
      // a tube thicker than the list goes stays possible, and what lies between: a frame that holds must not be lost
      for (const t of wallSeries(material, Math.min(height, width), Math.max(height, width)))
        if (t > thickest && t < wall) add(height, width, t, ORDERED);
      add(height, width, wall, 'as drawn');
    }
  }
  if (outside && !within && tube.shape === 'round')
    for (const t of plain) {
      if (t.od_mm < NARROWEST * height || t.od_mm > WIDEST * height) continue;
      const bore = t.od_mm - 2 * t.wall_mm;
      if (carried.length > 0 && Math.abs(bore - (height - 2 * wall)) > BORE) continue;
      add(t.od_mm, t.od_mm, t.wall_mm, t.list);
    }
  if (carried.length > 0) {
    const bore = `${carried.join(', ')} runs in it: its bore of ${Number((height - 2 * wall).toFixed(2))} mm stays`;
    if (!outside) return bore;
    if (made.length === 0) return `${bore}, and no list has another tube of that bore`;
    add(height, width, wall, made.find((g) => g.section === text)?.from ?? 'as drawn');
  }
  if (made.length < 2)
    return made.length === 0 ? 'no wall of the series suits its size' : 'the list has one wall for it';
  return undominated(made, tube);
}

/** Lightest first, without those that another one beats in mass, strength and wall at once. */
function undominated(gauges: readonly Gauge[], tube: FrameTube): readonly Gauge[] {
  const rated = gauges.map((g) => ({ g, ...rating(g, tube) }));
  return rated
    .filter(
      (a) =>
        !rated.some(
          (b) =>
            b !== a &&
            b.area < a.area &&
            b.strength >= a.strength &&
            b.g.wall_mm >= a.g.wall_mm &&
            b.spread >= a.spread,
        ),
    )
    .sort((a, b) => a.area - b.area || a.strength - b.strength)
    .map((r) => r.g);
}

/** Area, elastic modulus and second moment in the weaker direction, mm², mm³, mm⁴. */
export function rating(g: Gauge, tube: FrameTube): { area: number; strength: number; spread: number } {
  const p = tubeProperties({ shape: tube.shape, height: g.height_mm, width: g.width_mm, wall: g.wall_mm }, 0.3);
  return { area: p.area, strength: Math.min(p.wy, p.wz), spread: Math.min(p.iy, p.iz) };
}
