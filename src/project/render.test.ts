import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PROBLEM_CODES, type Problem } from './problems.ts';
import { renderProblem, renderProblems } from './render.ts';

const SOURCE = 'format: 1\nstations:\n\t crank: [415 mm, 0, beam_hight]\n';
const problem: Problem = {
  code: 'expression.name',
  severity: 'error',
  file: 'candidates/a.yaml',
  path: 'stations.crank.2',
  line: 3,
  column: 22,
  length: 10,
  message: '"beam_hight" is not known here',
  found: 'beam_hight',
  hint: 'did you mean beam_height?',
};

describe('rendering', () => {
  it('shows place, line, carets under tabs, and the way out', () => {
    expect(renderProblem(problem, SOURCE)).toBe(
      [
        'candidates/a.yaml:3:22: error: "beam_hight" is not known here [expression.name]',
        '  3 | \t crank: [415 mm, 0, beam_hight]',
        '    | \t                    ^^^^^^^^^^',
        '  found:    beam_hight',
        '  hint:     did you mean beam_height?',
      ].join('\n'),
    );
  });
  it('names no place where there is none', () => {
    const nowhere = { ...problem, line: 0, column: 0, length: 0 };
    expect(renderProblem(nowhere)).toMatch(/^candidates\/a\.yaml: error: "beam_hight"/);
    expect(renderProblem({ ...nowhere, file: '' })).toMatch(/^error: "beam_hight"/);
  });
  it('sorts by file and line, counts, and does without a source', () => {
    const caution: Problem = { ...problem, severity: 'caution', line: 1, column: 1 };
    const text = renderProblems(
      [problem, caution, { ...problem, file: 'b.yaml' }],
      new Map([['candidates/a.yaml', SOURCE]]),
    );
    expect(text.match(/^\S+: (?:error|caution)/gm)).toEqual([
      'candidates/a.yaml:1:1: caution',
      'candidates/a.yaml:3:22: error',
      'b.yaml:3:22: error',
    ]);
    expect(text.endsWith('2 errors, 1 caution\n')).toBe(true);
    expect(renderProblems([])).toBe('');
  });
  it('keeps a long line around the caret, and puts the caret under the right letters', () => {
    const source = `${'x'.repeat(5000)}HERE${'y'.repeat(5000)}`;
    const [, line, carets] = renderProblem({ ...problem, line: 1, column: 5001, length: 4 }, source).split('\n');
    expect(line!.length).toBeLessThan(120);
    expect(line!.slice(carets!.indexOf('^'), carets!.lastIndexOf('^') + 1)).toBe('HERE');
  });
  it('lets no control character reach the terminal', () => {
    const nasty = '\u001b[2J\u0007\u202e\r';
    const text = renderProblem(
      { ...problem, line: 1, column: 1, message: nasty, found: nasty, file: nasty },
      `a${nasty}b`,
    );
    // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what is looked for.
    expect(text).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f\u202e]/);
  });
  it('survives places that are not in the source', () => {
    expect(renderProblem({ ...problem, line: 99 }, SOURCE).split('\n')).toHaveLength(3);
    expect(renderProblem({ ...problem, column: 999 }, SOURCE)).toContain('^');
  });
});

describe('docs/reference/problems.md', () => {
  it('has one row for every code, and none for others', () => {
    const page = readFileSync('docs/reference/problems.md', 'utf8');
    const rows = [...page.matchAll(/^\| `([a-z_.0-9]+)` \| (.+) \| (.+) \|$/gm)];
    expect(rows.map((r) => r[1]).toSorted()).toEqual([...PROBLEM_CODES].toSorted());
    for (const [, code, meaning, way] of rows) expect(`${meaning}${way}`.length, code).toBeGreaterThan(40);
  });
});
