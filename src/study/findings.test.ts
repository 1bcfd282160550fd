import { describe, expect, it } from 'vitest';
import { readProject, starterFiles } from '#project';
import { findings } from './findings.ts';
import { judgeCandidate, openWorkspace } from './workspace.ts';

const FILE = 'candidates/side_beam.yaml';

/** Findings of the starter with parts of its candidate replaced, as [code, line's text, message]. */
function found(...changes: readonly (readonly [from: string, to: string])[]) {
  const files = new Map(starterFiles('test'));
  let text = files.get(FILE)!;
  for (const [from, to] of changes) {
    if (!text.includes(from)) throw new Error(`${FILE} has no "${from}"`);
    text = text.replace(from, to);
  }
  files.set(FILE, text);
  const { project, problems } = readProject(files);
  if (!project?.candidates[0]) throw new Error(problems.map((p) => p.message).join('\n'));
  const w = openWorkspace(project);
  const lines = text.split('\n');
  return findings(judgeCandidate(w, w.candidates[0]!)).map((p) => {
    expect(p.severity).toBe('caution');
    expect(p.file).toBe(FILE);
    return { code: p.code, line: lines[p.line - 1]!.trim(), message: p.message, hint: p.hint };
  });
}

describe('findings', () => {
  it('has none for the starter', () => {
    expect(found()).toEqual([]);
  });

  it('tells a move that changes nothing, at that move', () => {
    const move = '  - {move: turn, joint: main, to: 180 deg}';
    const [only, ...more] = found([move, `${move}\n${move}   # again`]);
    expect(more).toEqual([]);
    expect(only).toMatchObject({ code: 'fold.move', message: 'this move of `main` changes nothing' });
    expect(only!.line).toMatch(/# again$/);
  });

  const cable = (slack: string, bend: string) =>
    found([
      '\nfold:',
      `\ncables:\n  - {name: run, along: [[rear, rear_hub], [rear, hinge], [front, head_top]], slack: ${slack}, min_bend: ${bend}}\nfold:`,
    ]);

  it('tells a cable that the fold pulls, and not one with length to spare', () => {
    const direct = found([
      '\nfold:',
      '\ncables:\n  - {name: run, along: [[rear, rear_hub], [front, head_top]], slack: 0}\nfold:',
    ]);
    expect(direct).toHaveLength(1);
    expect(direct[0]).toMatchObject({ code: 'cable.short', line: expect.stringContaining('name: run') });
    expect(direct[0]!.message).toMatch(/^the cable `run` is \d+ mm too short in move 3$/);
    expect(cable('60 mm', '20 mm')).toEqual([]);
  });

  it('tells a cable that cannot bend as gently as it must, however it is held', () => {
    expect(cable('60 mm', '900 mm').map((f) => f.code)).toEqual(['cable.bend']);
  });
});
