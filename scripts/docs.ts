/** Writes the generated pages under docs/; with `--check` only compares, and fails when one is out of date. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { jsonSchemas } from '../src/project/schema/json-schemas.ts';
import { quantitiesPage } from '../src/study/quantities-page.ts';
import { loadDisciplines } from '../verification/load.ts';
import { verificationPage } from '../verification/page.ts';

const root = join(import.meta.dirname, '..');
const pages: Readonly<Record<string, () => Promise<string>>> = {
  'docs/verification.md': async () => verificationPage(await loadDisciplines(join(root, 'verification'))),
  'docs/reference/quantities.md': async () => quantitiesPage(),
  ...Object.fromEntries(
    Object.entries(jsonSchemas()).map(([name, schema]) => [
      `docs/reference/schema/${name}.json`,
      async () => `${JSON.stringify(schema, null, 2)}\n`,
    ]),
  ),
};

const read = (path: string): string => {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
};

const check = process.argv.includes('--check');
for (const [name, make] of Object.entries(pages)) {
  const path = join(root, name);
  const text = await make();
  if (read(path) === text) continue;
  if (check) {
    console.error(`${name} is out of date; npm run docs writes it`);
    process.exitCode = 1;
  } else {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
    console.log(`${name} written`);
  }
}
