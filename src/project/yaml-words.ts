/**
 * What is wrong with a YAML text, in our words and with a way out.
 *
 * The parser's own sentences speak of the parser's parts (flow sequences, implicit keys, its own functions); a designer
 * speaks of brackets, tabs and columns. One forgotten bracket also makes every later line look wrong: such consequences
 * are left out after the first fault. A sentence that is not known here is passed on as it is.
 */
import type { YAMLError } from 'yaml';
import type { ProblemCode } from './problems.ts';

export interface YamlFault {
  readonly code: ProblemCode;
  readonly range: readonly [number, number];
  readonly message: string;
  readonly hint?: string;
}

/** A pattern of the parser's sentence; `$1` of message stands for its first group. */
const WORDS: readonly (readonly [RegExp, string, string?])[] = [
  [
    /multiple documents/i,
    'a second document begins here',
    'one file holds one document: remove the line ---, or make two files',
  ],
  [/^tabs are not allowed/i, 'a tab stands in the indentation', 'indent with spaces'],
  [/^missing closing (["'])quote/i, 'a text in $1 is not closed', 'close the quotation mark that opens above'],
  [/end with a ([\]}])$/i, 'a bracket is not closed before this', 'the closing $1 is missing, here or in a line above'],
  [/^missing , /i, 'a comma is missing before this', 'entries in brackets are separated by commas'],
  [/^unexpected empty item/i, 'a value is missing between the commas', 'remove the comma, or write the value'],
  [/^unexpected ([\]}])/i, 'the bracket $1 closes nothing that is open', 'remove it, or open one before'],
  [
    /^nested mappings are not allowed/i,
    'a second key stands in this line',
    'put text that holds ": " in quotes; a key of its own begins a new line',
  ],
  [
    /^block collections are not allowed/i,
    'a second key stands in this place between brackets',
    'entries in brackets are separated by commas',
  ],
  [
    /^implicit (map )?keys? need/i,
    'this line is no key with a value',
    'write KEY: VALUE, or close the text or bracket above',
  ],
  [/^missing space after :/i, 'a space is missing after the colon', 'write KEY: VALUE'],
  [
    /must start at the same column|bad indentation|sequence item without -/i,
    'this line begins at another column than the entries it belongs to',
    'entries of one map or list begin at the same column',
  ],
  [/^plain value cannot start with (.+)/i, 'a text cannot begin with $1', 'put it in quotes'],
  [/^invalid escape sequence (.*)/i, '$1 means nothing in a text in "', "write the text in ' instead, or \\\\"],
];

/** Faults that an earlier one brings about. */
const CONSEQUENCES: ReadonlySet<string> = new Set(['BLOCK_AS_IMPLICIT_KEY', 'MULTILINE_IMPLICIT_KEY', 'BAD_INDENT']);

/** The faults of a text, in the order that the parser found them. */
export function yamlFaults(errors: readonly YAMLError[]): YamlFault[] {
  const own = errors.filter((error, i) => i === 0 || !CONSEQUENCES.has(error.code));
  return own.map((error) => {
    const range = [error.pos[0], error.pos[1]] as const;
    const tag = /^unresolved tag: (.*)/i.exec(error.message)?.[1];
    if (tag !== undefined) {
      const message = `tags (${tag.slice(0, 40)}) are not used in project files`;
      return { code: 'yaml.unsupported', range, message, hint: 'leave the tag out' };
    }
    for (const [pattern, message, hint] of WORDS) {
      const found = pattern.exec(error.message);
      if (!found) continue;
      const said = (text: string) => text.replace('$1', () => found[1] ?? '');
      return { code: 'yaml.syntax', range, message: said(message), ...(hint ? { hint: said(hint) } : {}) };
    }
    return { code: 'yaml.syntax', range, message: error.message.replace(/^[A-Z](?=[a-z])/, (c) => c.toLowerCase()) };
  });
}
