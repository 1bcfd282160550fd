/** Writes the generated pages under docs/; with `--check` only compares, and fails when one is out of date. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { processEffects, run } from '../src/cli/index.ts';
import { jsonSchemas } from '../src/project/schema/json-schemas.ts';
import { loadCasesPage } from '../src/study/load-cases-page.ts';
import { quantitiesPage } from '../src/study/quantities-page.ts';
import { loadDisciplines } from '../verification/load.ts';
import { verificationPage } from '../verification/page.ts';
import { quaysidePlates } from './pictures.ts';
import { surveyModel } from './survey-model.ts';

const root = join(import.meta.dirname, '..');
const pages: Readonly<Record<string, () => Promise<string>>> = {
  'src/kernel/rider/survey-model.ts': async () => surveyModel(root),
  'docs/verification.md': async () => verificationPage(await loadDisciplines(join(root, 'verification'))),
  'README.md': async () => withDemo(readFileSync(join(root, 'README.md'), 'utf8')),
  'docs/pictures/quayside-plates.svg': () => quaysidePlates(root),
  'docs/reference/load-cases.md': async () => loadCasesPage(),
  'docs/reference/quantities.md': async () => quantitiesPage(),
  ...Object.fromEntries(
    Object.entries(jsonSchemas()).map(([name, schema]) => [
      `docs/reference/schema/${name}.json`,
      async () => `${JSON.stringify(schema, null, 2)}\n`,
    ]),
  ),
};

/** The README with what the demo prints today between its marks. */
async function withDemo(readme: string): Promise<string> {
  let printed = '';
  const effects = { ...processEffects(root), stdout: { write: (text: string) => (printed += text) }, cwd: root };
  await run(['choose', 'examples/quayside'], effects);
  const [before, , after] = readme.split(/(<!-- demo[\s\S]*<!-- end of demo -->)/);
  if (after === undefined) throw new Error('README.md has lost the marks of the demo');
  return `${before}<!-- demo: written by npm run docs -->\n\`\`\`\n${printed.trimEnd()}\n\`\`\`\n<!-- end of demo -->${after}`;
}

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
