/**
 * Tubes that can be bought, by list: outside diameter and wall, mm. Sizing picks from them; a supplier's own list is better.
 *
 * Each list names its source. Where only diameters and walls are given, the pairs are made by the rule beside the list
 * (what is drawn and stocked, from memory): not every pair lies on every shelf.
 * Not here: oval, rectangular and tapered tubes, lengths, prices.
 */
import { findMaterial } from './materials.ts';

export interface StockTube {
  readonly od_mm: number;
  /** Wall; of a butted tube, of its middle. */
  readonly wall_mm: number;
  /** Walls of the two ends of a butted tube, mm. */
  readonly butted?: { readonly ends_mm: readonly [number, number] };
  readonly list: string;
}
export interface StockList {
  readonly name: string;
  readonly source: string;
  readonly materials: readonly string[];
  readonly tubes: readonly StockTube[];
}

const MEMORY = 'default, from memory';

type Pair = readonly [od: number, wall: number];
type ButtedPair = readonly [od: number, first: number, middle: number, second: number];

/** Every diameter with every wall between od/`thin` and od/`thick`. */
const pairs = (ods: readonly number[], walls: readonly number[], thin: number, thick: number): Pair[] =>
  ods.flatMap((od) => walls.filter((w) => w >= od / thin && w <= od / thick).map((w): Pair => [od, w]));

const list = (
  name: string,
  source: string,
  materials: readonly string[],
  plain: readonly Pair[],
  butted: readonly ButtedPair[] = [],
): StockList => ({
  name,
  source,
  materials,
  tubes: [
    ...plain.map(([od_mm, wall_mm]) => ({ od_mm, wall_mm, list: name })),
    ...butted.map(([od_mm, a, wall_mm, b]) => ({ od_mm, wall_mm, butted: { ends_mm: [a, b] as const }, list: name })),
  ].sort(order),
});
/** By diameter, then wall, plain before butted, then thicker ends last. */
function order(a: StockTube, b: StockTube): number {
  const ends = (t: StockTube): number => (t.butted ? t.butted.ends_mm[0] + t.butted.ends_mm[1] : 0);
  return a.od_mm - b.od_mm || a.wall_mm - b.wall_mm || ends(a) - ends(b);
}

// biome-ignore-start format: rows of sizes
const METRIC_OD = [
  8, 10, 12, 14, 15, 16, 18, 20, 22, 25, 26, 28, 30, 32, 35, 38, 40, 42, 45, 48, 50, 55, 60, 70, 76, 80,
];
const METRIC_WALL = [0.5, 0.8, 1, 1.2, 1.5, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.5, 4, 4.5, 5];
const INCH_OD = [12.7, 16, 19, 22.2, 25.4, 28.6, 31.8, 34.9, 38.1, 44.5];
const GAUGE = [0.71, 0.91, 1.21, 1.63];
const ALUMINIUM: readonly Pair[] = [
  [25, 2],
  [28, 1.5],
  [30, 2],
  [32, 2],
  [35, 2],
  [38, 2],
  [40, 2],
  [40, 3],
  [45, 2.5],
  [50, 2],
  [50, 3],
  [50, 5],
  [60, 2],
  [60, 3],
  [60, 5],
  [70, 3],
  [80, 3],
  [80, 5],
];
const ALUMINIUM_BUTTED: readonly ButtedPair[] = [
  [34.9, 1.8, 1.2, 1.8],
  [50, 2, 1.4, 2],
];
const STEEL_BUTTED: readonly ButtedPair[] = [
  [25.4, 0.8, 0.5, 0.8],
  [25.4, 0.9, 0.6, 0.9],
  [28.6, 0.7, 0.4, 0.7],
  [28.6, 0.7, 0.5, 0.7],
  [28.6, 0.8, 0.5, 0.8],
  [28.6, 0.9, 0.6, 0.9],
  [28.6, 1, 0.7, 1],
  [31.8, 0.7, 0.4, 0.7],
  [31.8, 0.7, 0.5, 0.7],
  [31.8, 0.8, 0.5, 0.8],
  [31.8, 0.9, 0.6, 0.9],
  [31.8, 1, 0.7, 1],
  [34.9, 0.8, 0.5, 0.8],
  [34.9, 0.9, 0.6, 0.9],
  [34.9, 1, 0.7, 1],
  [38.1, 0.9, 0.6, 0.9],
  [28.6, 0.7, 0.4, 0.6],
  [28.6, 1, 0.6, 0.8],
];
const TITANIUM_OD = [16, 19, 22.2, 25.4, 28.6, 31.8, 34.9, 38.1, 44.5];
// biome-ignore-end format: rows of sizes

const CRMO = ['25CrMo4', '25CrMo4+SR', '25CrMo4-HT125', '25CrMo4-HT150', '25CrMo4-HT180'];

export const STOCK_LISTS: readonly StockList[] = [
  list(
    'metric steel',
    `EN 10305-1 (diameters 4-125, walls 0.5-13 mm); preferred sizes and pairs (wall between od/50 and od/6), ${MEMORY}`,
    ['E235', 'E355', '25CrMo4', '25CrMo4+SR', 'S235', 'S355'],
    pairs(METRIC_OD, METRIC_WALL, 50, 6),
  ),
  list(
    'metric stainless',
    `EN 10305-1 sizes with walls of 1 mm and more, ${MEMORY}`,
    ['304', '316L'],
    pairs(
      METRIC_OD,
      METRIC_WALL.filter((w) => w >= 1),
      50,
      6,
    ),
  ),
  list(
    'inch steel',
    `Diameters of bicycle tubes, ${MEMORY}; walls of the standard wire gauge 22, 20, 18, 16 (published gauge table); wall at least od/50`,
    [...CRMO, '1020 HREW', '1020 DOM'],
    pairs(INCH_OD, GAUGE, 50, 6),
  ),
  list(
    'butted steel',
    `Wall pairs as tube makers publish them (0.9/0.6, 0.8/0.5, 1.0/0.7, 0.7/0.5, 0.7/0.4 and seat tubes); which diameter has which pair, ${MEMORY}`,
    CRMO,
    [],
    STEEL_BUTTED,
  ),
  list(
    'aluminium round',
    `EN 754-7 and EN 755-7 (diameters 3-350); common stock, ${MEMORY}`,
    ['6061-T6', '6061-T6 drawn', '6061-T4', '6063-T6', '6005A-T6', '6082-T6', '7005-T6', '7020-T6'],
    ALUMINIUM,
  ),
  list('butted aluminium', `Examples, ${MEMORY}`, ['6061-T6', '6061-T6 drawn', '7005-T6'], [], ALUMINIUM_BUTTED),
  list(
    'titanium',
    `Diameters of bicycle tubes, walls 0.9-1.5 mm, ${MEMORY}`,
    ['Ti-3Al-2.5V', 'Ti-3Al-2.5V annealed'],
    pairs(TITANIUM_OD, [0.9, 1, 1.2, 1.5], 50, 6),
  ),
];

/**
 * Round tubes to be had in a material (its name or an alias), by diameter, then wall, plain before butted; empty when no
 * list has it.
 */
export function stockFor(material: string): readonly StockTube[] {
  const name = findMaterial(material)?.name;
  return STOCK_LISTS.filter((l) => name !== undefined && l.materials.includes(name))
    .flatMap((l) => l.tubes)
    .sort(order);
}

/**
 * Walls in which tube is drawn to order where no list has the outside size: the preferred walls of EN 10305-1, also for light
 * alloys, mm. Between od/50 and od/6; light alloys from 1 mm, thinner is not welded by hand. Both limits default, from memory.
 * @param least_mm, most_mm smallest and largest outside dimension of the section.
 */
export function wallSeries(material: string, least_mm: number, most_mm: number): readonly number[] {
  const light = LIGHT.has(findMaterial(material)?.name ?? '');
  return METRIC_WALL.filter((w) => w >= most_mm / 50 && w <= least_mm / 6 && (!light || w >= 1));
}
const LIGHT: ReadonlySet<string> = new Set(
  STOCK_LISTS.filter((l) => l.name.includes('aluminium')).flatMap((l) => l.materials),
);
