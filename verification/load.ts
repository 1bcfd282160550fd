/** All disciplines' cases, in the order of their folders' names. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Case } from './case.ts';

export interface Discipline {
  readonly name: string;
  readonly cases: readonly Case[];
}

/** @throws when a discipline's folder has no `cases.ts` or that file exports no list named `cases`. */
export async function loadDisciplines(folder: string): Promise<Discipline[]> {
  const names = readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && readdirSync(join(folder, entry.name)).length > 0)
    .map((entry) => entry.name)
    .sort();
  const found: Discipline[] = [];
  for (const name of names) {
    const path = join(folder, name, 'cases.ts');
    if (!existsSync(path)) throw new Error(`verification/${name} has no cases.ts`);
    const { cases } = (await import(pathToFileURL(path).href)) as { cases?: readonly Case[] };
    if (!Array.isArray(cases)) throw new Error(`verification/${name}/cases.ts exports no list named cases`);
    found.push({ name, cases });
  }
  return found;
}
