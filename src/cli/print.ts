/** JSON as the command line prints it: full precision, one final newline. */
import type { Problem, ProblemCode } from '#project';
import type { Effects } from './effects.ts';
import { EXIT } from './exit.ts';

export function printJson(effects: Effects, value: unknown): void {
  effects.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

/** A problem of the command line itself; it has no file and no place. */
export function usageProblem(code: ProblemCode, message: string, hint?: string): Problem {
  const place = { file: '', path: '', line: 0, column: 0, length: 0 };
  return { code, severity: 'error', ...place, message, ...(hint === undefined ? {} : { hint }) };
}

/** Prints problems as JSON on stdout and returns the exit code for unusable input. */
export function printProblems(effects: Effects, problems: readonly Problem[]): number {
  printJson(effects, { problems });
  return EXIT.unusable;
}
