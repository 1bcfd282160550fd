/**
 * Problems as text for people: place, message, the line itself with carets, and what to do.
 *
 * The same text everywhere: terminal, page and log. Colour is left to the caller. Characters that could steer a terminal
 * are shown as dots, whatever the file holds.
 */
import type { Problem } from './problems.ts';

/** Longer lines are shown around the caret only. */
const WIDEST = 100;
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must not reach the terminal.
const CONTROL = /[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;
const plain = (text: string): string => text.replace(CONTROL, '·');
/** Text of several lines that holds nothing which could steer a terminal. */
export const printable = (text: string): string => text.split('\n').map(plain).join('\n');

function excerpt(source: string, problem: Problem): string[] {
  const line = source
    .split('\n', problem.line)
    .at(problem.line - 1)
    ?.replace(/\r$/, '');
  if (line === undefined || line.trim() === '') return [];
  const column = Math.min(problem.column - 1, line.length);
  const cut = column > WIDEST * 0.7 ? column - Math.floor(WIDEST / 2) : 0;
  const shown = line.slice(cut, cut + WIDEST);
  // Tabs stay tabs under tabs, and a character of two units takes one place.
  const gap = [...shown.slice(0, column - cut)].map((c) => (c === '\t' ? '\t' : ' ')).join('');
  const under = [...shown.slice(column - cut, column - cut + problem.length)].length;
  const number = String(problem.line);
  const before = cut > 0 ? '…' : '';
  const after = cut + WIDEST < line.length ? '…' : '';
  const pad = ' '.repeat(number.length);
  return [
    `  ${number} | ${before}${plain(shown)}${after}`,
    `  ${pad} | ${before ? ' ' : ''}${gap}${'^'.repeat(Math.max(1, under))}`,
  ];
}

/** One problem. `source` is the text of its file, when it is at hand. */
export function renderProblem(problem: Problem, source?: string): string {
  // Problems of the command line have no file, those of a whole file no line.
  const at = problem.line > 0 ? `${plain(problem.file)}:${problem.line}:${problem.column}: ` : '';
  const place = at || (problem.file ? `${plain(problem.file)}: ` : '');
  const lines = [`${place}${problem.severity}: ${plain(problem.message)} [${problem.code}]`];
  if (source !== undefined) lines.push(...excerpt(source, problem));
  for (const [word, text] of [
    ['expected', problem.expected],
    ['found', problem.found],
    ['hint', problem.hint],
  ] as const)
    if (text !== undefined) lines.push(`  ${`${word}:`.padEnd(9)} ${plain(text)}`);
  return lines.join('\n');
}

/** All problems in the order of files and lines, a blank line between them, and a count at the end. Empty for none. */
export function renderProblems(problems: readonly Problem[], sources: ReadonlyMap<string, string> = new Map()): string {
  if (problems.length === 0) return '';
  const files = [...new Set(problems.map((p) => p.file))];
  const sorted = problems.toSorted(
    (a, b) => files.indexOf(a.file) - files.indexOf(b.file) || a.line - b.line || a.column - b.column,
  );
  const errors = problems.filter((p) => p.severity === 'error').length;
  const count = (n: number, word: string): string[] => (n > 0 ? [`${n} ${word}${n === 1 ? '' : 's'}`] : []);
  const total = [...count(errors, 'error'), ...count(problems.length - errors, 'caution')].join(', ');
  return `${[...sorted.map((p) => renderProblem(p, sources.get(p.file))), total].join('\n\n')}\n`;
}
