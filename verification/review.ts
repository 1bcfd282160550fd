/** Looks over the lists of cases themselves: what would make a green verification mean less than it seems. */
import { allowed, type Case } from './case.ts';
import type { Discipline } from './load.ts';

/** The widest tolerance that counts as agreement with a published figure; anything wider must say so by being absolute. */
const WIDEST_RELATIVE = 0.2;

function reviewCase(found: Case): string[] {
  const faults: string[] = [];
  const rows = new Set<string>();
  if (found.rows.length === 0) faults.push('has no row');
  if (found.source.trim().length < 8) faults.push('names no source');
  for (const row of found.rows) {
    const where = `row "${row.quantity}"`;
    const key = `${row.quantity} ${row.unit}`;
    if (rows.has(key)) faults.push(`${where} stands twice`);
    rows.add(key);
    if (!Number.isFinite(row.published)) faults.push(`${where} publishes no finite figure`);
    if (!(allowed(row) >= 0) || (row.tolerance.absolute === undefined && row.tolerance.relative === undefined))
      faults.push(`${where} has no tolerance`);
    if ((row.tolerance.relative ?? 0) > WIDEST_RELATIVE)
      faults.push(`${where} allows more than ${WIDEST_RELATIVE * 100} %`);
    if (row.tolerance.why.trim().length < 4) faults.push(`${where} does not say why its tolerance is what it is`);
  }
  return faults.map((fault) => `${found.id}: ${fault}`);
}

/** Faults of the lists, in words; an empty list when there are none. */
export function review(disciplines: readonly Discipline[]): string[] {
  const faults: string[] = [];
  const ids = new Set<string>();
  if (disciplines.length === 0) faults.push('there is no discipline');
  for (const { name, cases } of disciplines) {
    if (!cases.some((found) => found.rows.some((row) => row.wrong)))
      faults.push(`${name}: has no deliberately wrong row`);
    for (const found of cases) {
      if (ids.has(found.id)) faults.push(`${found.id}: the id is used twice`);
      ids.add(found.id);
      faults.push(...reviewCase(found).map((fault) => `${name}: ${fault}`));
    }
  }
  return faults;
}
