import { describe, expect, it } from 'vitest';
import { readProject } from '#project';
import { plainBeamFiles } from '../../test/fixtures/plain-beam.ts';
import { openWorkspace } from './workspace.ts';

/** Problems of the plain project whose brief has this demand in place of its first. */
function problemsOf(demand: string) {
  const files = new Map(plainBeamFiles());
  const brief = files.get('brief.yaml')!;
  files.set('brief.yaml', brief.replace(/demands:\n/, `demands:\n  - {${demand}}\n`));
  const { project, problems } = readProject(files);
  if (!project) throw new Error(problems.map((p) => p.message).join('; '));
  return openWorkspace(project).problems.filter((p) => p.severity === 'error');
}

describe('a demand on a share', () => {
  it('is told that a plain 85 is 8500 %, and how to write it', () => {
    const [problem] = problemsOf('quantity: fit.share, at_least: 85');
    expect(problem!.message).toMatch(/8500 %/);
    expect(problem!.hint).toBe('write 85 %');
  });
  it('takes 85 % and 0.85', () => {
    expect(problemsOf('quantity: fit.share, at_least: 85 %')).toEqual([]);
    expect(problemsOf('quantity: fit.share, at_least: 0.85')).toEqual([]);
  });
  it('takes turns a minute in their own unit', () => {
    expect(problemsOf('quantity: drive.cadence, at_most: 90 rpm')).toEqual([]);
  });
});
