/** The README's picture of examples/quayside: all candidates ridden and folded on one sheet. */
import { join } from 'node:path';
import { platesSheet, standaloneSvg } from '#draw';
import { readProject } from '#project';
import { readProjectFolder } from '#server';
import { judgeCandidate, openWorkspace } from '#study';

export async function quaysidePlates(root: string): Promise<string> {
  const { files, problems: unread } = await readProjectFolder(join(root, 'examples/quayside'));
  const { project, problems } = readProject(files);
  const errors = [...unread, ...problems].filter((p) => p.severity === 'error');
  if (!project || errors.length) throw new Error(errors.map((p) => `${p.file}:${p.line} ${p.message}`).join('\n'));
  const workspace = openWorkspace(project);
  // variants are shown by the candidate that they vary
  const judged = workspace.candidates.filter((c) => !c.id.includes('+')).map((c) => judgeCandidate(workspace, c));
  return standaloneSvg(
    platesSheet(judged),
    `The ${judged.length} candidates of ${project.name}, ridden and folded, to one scale`,
  );
}
