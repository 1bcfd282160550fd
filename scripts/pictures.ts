/** Writes the README's pictures of examples/quayside: all candidates ridden and folded on one sheet. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { platesSheet, standaloneSvg } from '#draw';
import { readProject } from '#project';
import { readProjectFolder } from '#server';
import { judgeCandidate, openWorkspace } from '#study';

const root = join(import.meta.dirname, '..');
const { files, problems: unread } = await readProjectFolder(join(root, 'examples/quayside'));
const { project, problems } = readProject(files);
const errors = [...unread, ...problems].filter((p) => p.severity === 'error');
if (!project || errors.length) {
  for (const p of errors) console.error(`${p.file}:${p.line} ${p.message}`);
  process.exit(1);
}
const workspace = openWorkspace(project);
// variants are shown by the candidate that they vary
const judged = workspace.candidates.filter((c) => !c.id.includes('+')).map((c) => judgeCandidate(workspace, c));
const path = 'docs/pictures/quayside-plates.svg';
mkdirSync(join(root, 'docs/pictures'), { recursive: true });
writeFileSync(
  join(root, path),
  standaloneSvg(
    platesSheet(judged),
    `The ${judged.length} candidates of ${project.name}, ridden and folded, to one scale`,
  ),
);
console.log(`${path} written: ${judged.map((j) => j.candidate.name).join(', ')}`);
