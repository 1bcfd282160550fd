/** src/kernel/rider/survey-model.ts from the survey's public tables in data/: measures that a seated rider needs, and mass. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const MEASURES = [
  'stature',
  'crotchheight',
  'trochanterionheight',
  'lateralfemoralepicondyleheight',
  'lateralmalleolusheight',
  'sittingheight',
  'acromialheight',
  'biacromialbreadth',
  'acromionradialelength',
  'radialestylionlength',
  'palmlength',
  'footlength',
  'balloffootlength',
  'handbreadth',
  'hipbreadthsitting',
  'thumbtipreach',
  'wristheight',
] as const;

interface Table {
  readonly mean: number;
  readonly sd: number;
  /** p1, p5, p50, p95, p99. */
  readonly percentiles: readonly number[];
  /** By the other measure's name. */
  readonly correlation: ReadonlyMap<string, number>;
}
type Sex = 'MALE' | 'FEMALE';

const rowsOf = (text: string): string[][] =>
  text
    .trim()
    .split('\n')
    .map((line) => line.split(','));

/** Means and deviations above, then one square of correlations per sex. */
function summary(text: string, sex: Sex): Map<string, Table> {
  const rows = rowsOf(text);
  const heading = rows.find((r) => r[0] === 'sex')!;
  const at = (r: readonly string[], name: string): number => Number(r[heading.indexOf(name)]);
  const figures = new Map(rows.filter((r) => r[0] === sex).map((r) => [r[2]!, r]));
  const start = rows.findIndex((r) => r[0]!.includes(`correlation matrix ${sex}`)) + 1;
  const names = rows[start]!.slice(1);
  return new Map(
    rows.slice(start + 1, start + 1 + names.length).map((r) => {
      const row = figures.get(r[0]!)!;
      return [
        r[0]!,
        {
          mean: at(row, 'mean'),
          sd: at(row, 'sd'),
          percentiles: ['p1', 'p5', 'p50', 'p95', 'p99'].map((p) => at(row, p)),
          correlation: new Map(names.map((name, k) => [name, Number(r[k + 1])])),
        },
      ];
    }),
  );
}

/** Blocks of `sex`, a heading, and rows of mean, deviation and correlations. */
function model(text: string, sex: Sex): Map<string, Omit<Table, 'percentiles'>> {
  const rows = rowsOf(text);
  const start = rows.findIndex((r) => r[0] === 'sex' && r[1] === sex) + 1;
  const names = rows[start]!.slice(3);
  return new Map(
    rows.slice(start + 1, start + 1 + names.length).map((r) => [
      r[0]!,
      {
        mean: Number(r[1]),
        sd: Number(r[2]),
        correlation: new Map(names.map((name, k) => [name, Number(r[k + 3])])),
      },
    ]),
  );
}

function block(root: string, sex: Sex): string {
  const all = summary(readFileSync(join(root, 'data', 'ansur-summary.csv'), 'utf8'), sex);
  const few = model(readFileSync(join(root, 'data', 'ansur-model.csv'), 'utf8'), sex);
  const ln = few.get('lnweight')!;
  const shared = MEASURES.filter((name) => few.has(name));
  // For measures outside the smaller table: the correlation with mass itself, times what the logarithm does to it elsewhere.
  const share =
    shared.reduce((sum, name) => sum + ln.correlation.get(name)! / all.get('weightkg')!.correlation.get(name)!, 0) /
    shared.length;
  const withMass = (name: string): number =>
    ln.correlation.get(name) ?? share * all.get('weightkg')!.correlation.get(name)!;
  const lines = MEASURES.map((name, i) => {
    const { mean, sd } = few.get(name) ?? all.get(name)!;
    const row = MEASURES.slice(0, i).map((other) => all.get(name)!.correlation.get(other)!.toFixed(4));
    const percentiles = all.get(name)!.percentiles.map((p) => p.toFixed(1));
    return [name, mean.toFixed(4), sd.toFixed(4), ...percentiles, ...row].join(' ');
  });
  const logs = all.get('weightkg')!.percentiles.map((p) => Math.log(p).toFixed(4));
  lines.push(['lnweight', ln.mean, ln.sd, ...logs, ...MEASURES.map((name) => withMass(name).toFixed(4))].join(' '));
  return lines.join('\n');
}

export const surveyModel = (root: string): string => `/**
 * Body measures of the survey: name, mean, standard deviation, 1st, 5th, 50th, 95th, 99th percentile (mm; ln kg for the last)
 * and, as far as the diagonal, the correlations with the measures before it. Written by \`npm run docs\` from data/ansur-summary.csv and data/ansur-model.csv.
 *
 * Source: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007; public domain): 4082 men, 1986 women, barefoot. Correlations of
 * ln mass with malleolus height, shoulder breadth, palm, ball of the foot, reach and wrist height: those of mass, times the
 * mean ratio of both over the other measures.
 */
export const SURVEY_MEN = \`
${block(root, 'MALE')}
\`;
export const SURVEY_WOMEN = \`
${block(root, 'FEMALE')}
\`;
`;
