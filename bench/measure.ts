/**
 * Times short functions in batches: the clock's own cost and steps would drown a microsecond.
 *
 * A batch is as many calls as take about 5 ms; the figure is the median over batches, which a busy machine shifts least.
 * The least batch is shown too: what the code can do when nothing disturbs it. Results go to the file that `npm run bench`
 * names, so that it can put them in one table.
 */
import { appendFileSync } from 'node:fs';

export interface Measured {
  readonly name: string;
  readonly median_us: number;
  readonly least_us: number;
  readonly calls: number;
  /** What the design asks for, if it asks. */
  readonly aim_us?: number;
}
export interface MeasureOptions {
  readonly aim_us?: number;
  /** Time to spend, ms. */
  readonly budget_ms?: number;
}

/** Results are added here, so that no engine can drop the work as unused. */
export let sink = 0;

/** @param work returns a number that depends on the whole result. */
export function measure(name: string, work: () => number, options: MeasureOptions = {}): Measured {
  const budget = options.budget_ms ?? 600;
  const warmUntil = performance.now() + budget / 4;
  let warm = 0;
  const warmStart = performance.now();
  do {
    sink += work();
    warm++;
  } while (performance.now() < warmUntil);
  const each = (performance.now() - warmStart) / warm;
  const size = Math.max(1, Math.round(5 / each));
  const batches: number[] = [];
  const until = performance.now() + budget;
  do {
    const start = performance.now();
    for (let i = 0; i < size; i++) sink += work();
    batches.push(((performance.now() - start) / size) * 1000);
  } while (performance.now() < until || batches.length < 5);
  if (Number.isNaN(sink)) throw new Error(`${name}: the measured work gave NaN`);
  batches.sort((a, b) => a - b);
  const result: Measured = {
    name,
    median_us: batches[batches.length >> 1]!,
    least_us: batches[0]!,
    calls: size * batches.length,
    ...(options.aim_us === undefined ? {} : { aim_us: options.aim_us }),
  };
  const file = process.env['FOLDWRIGHT_BENCH'];
  if (file) appendFileSync(file, `${JSON.stringify(result)}\n`);
  console.log(line(result));
  return result;
}

const us = (value: number): string => `${value >= 100 ? value.toFixed(0) : value.toPrecision(3)} µs`;
export const line = (m: Measured): string =>
  `${m.name.padEnd(52)} ${us(m.median_us).padStart(10)}  least ${us(m.least_us).padStart(10)}` +
  (m.aim_us === undefined ? '' : `  aim ${us(m.aim_us)}${m.median_us <= m.aim_us ? '' : '  MISSED'}`);
