/**
 * A whole project from the text of its files: brief, own parts, candidates. No disk; the caller brings the text.
 *
 * One file that cannot be used does not hide the others: whatever can be read is returned beside all problems.
 */
import { type Brief, readBrief } from './brief.ts';
import { nearestName } from './nearest.ts';
import { readOwnParts } from './parts-file.ts';
import type { Problem } from './problems.ts';
import type { OwnParts } from './resolve/part-values.ts';
import { type ResolvedCandidate, resolveCandidate } from './resolve.ts';
import { differenceSchema } from './schema/candidate-schema.ts';
import { checkStructure, valueAt } from './schema/check-structure.ts';
import { projectSchema } from './schema/project-schema.ts';
import { NAME } from './schema/values.ts';
import { problemAt, readDocument, type SourceDocument } from './text.ts';
import { withDifferences } from './variants.ts';

export interface Project {
  readonly name: string;
  readonly note: string;
  readonly brief: Brief;
  readonly parts: OwnParts;
  /** In the order of their file names, each followed by its variants (`side_beam`, `side_beam+light`). */
  readonly candidates: readonly ResolvedCandidate[];
  /** Names of all candidate files, also of those that cannot be used. */
  readonly candidateNames: readonly string[];
  readonly documents: ReadonlyMap<string, SourceDocument>;
}
const CANDIDATE = /^candidates\/([^/]+?)(\.ya?ml)$/i;

/**
 * `files` maps paths inside the project folder (`brief.yaml`, `candidates/side_beam.yaml`) to their text or bytes; other
 * files are ignored. There is a project when foldwright.yaml and the brief can be used; candidates that cannot are left
 * out and their problems say why.
 */
export function readProject(files: ReadonlyMap<string, string | Uint8Array>): {
  project?: Project;
  problems: Problem[];
} {
  const problems: Problem[] = [];
  const documents = new Map<string, SourceDocument>();
  // Files whose text is at fault (a key twice, a reserved name) are checked on, but nothing is computed from them.
  const faulty = new Set<string>();
  const open = (file: string): SourceDocument | undefined => {
    const source = files.get(file);
    if (source === undefined) return undefined;
    const read = readDocument(file, source);
    problems.push(...read.problems);
    if (read.document) documents.set(file, read.document);
    if (read.problems.some((p) => p.severity === 'error')) faulty.add(file);
    return read.document;
  };
  const needed = (file: string, hint: string): SourceDocument | undefined => {
    if (!files.has(file)) problems.push(missingFile(file, hint));
    return open(file);
  };
  const head = needed('foldwright.yaml', 'write {format: 1, project: NAME}, or start with `foldwright new DIR`');
  const about = head && take(problems, checkStructure(projectSchema, head)).data;
  const briefFile = needed('brief.yaml', 'a project needs a brief; `foldwright new DIR` writes one to start from');
  const brief = briefFile && take(problems, readBrief(briefFile)).brief;
  const partsFile = open('parts.yaml');
  const own = partsFile && readOwnParts(partsFile);
  const parts: OwnParts = own?.parts ?? new Map();
  problems.push(...(own?.problems ?? []));
  // Without its own part a candidate would be weighed with the built-in one of that name.
  if (own?.problems.some((p) => p.severity === 'error')) faulty.add('parts.yaml');

  const names: string[] = [];
  for (const file of files.keys()) {
    const [, name = '', ending] = CANDIDATE.exec(file) ?? [];
    if (ending === '.yaml' && NAME.test(name)) names.push(name);
    else if (ending !== undefined) problems.push(misnamed(file, name));
  }
  names.sort();
  for (const name of names) open(`candidates/${name}.yaml`);
  const candidates = names
    .flatMap((name) => readCandidate(name, documents, names, parts, problems))
    .filter(
      (candidate) =>
        !(files.has('parts.yaml') && !documents.has('parts.yaml')) &&
        !faulty.has('parts.yaml') &&
        !basesOf(fileId(candidate), documents).some((name) => faulty.has(`candidates/${name}.yaml`)),
    );
  if (brief?.reference !== undefined && !names.includes(brief.reference)) {
    const near = nearestName(brief.reference, names);
    problems.push(
      problemAt(briefFile!, ['reference'], 'value', 'name.unknown', `there is no candidate \`${brief.reference}\``, {
        found: brief.reference,
        expected: names.length ? `one of ${names.join(', ')}` : 'a file in candidates/',
        ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
      }),
    );
  }
  const told = oncePerPlace(problems);
  if (!about || !brief || faulty.has('foldwright.yaml') || faulty.has('brief.yaml')) return { problems: told };
  const { project: name, note = '' } = about;
  return { project: { name, note, brief, parts, candidates, candidateNames: names, documents }, problems: told };
}

function take<T extends { problems: Problem[] }>(all: Problem[], result: T): T {
  all.push(...result.problems);
  return result;
}

const missingFile = (file: string, hint: string): Problem => ({
  code: 'file.missing',
  severity: 'error',
  file,
  path: '',
  line: 1,
  column: 1,
  length: 0,
  message: `there is no ${file}`,
  hint,
});

/** A file beside the candidates that would be passed over in silence. */
function misnamed(file: string, name: string): Problem {
  const legal =
    name
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '_')
      .replaceAll(/^[^a-z]+|_+$/g, '') || 'my_bicycle';
  return {
    ...missingFile(file, `call it candidates/${legal}.yaml`),
    code: 'name.invalid',
    message: `${file} is not read: its name is none for a candidate`,
    expected: 'small letters, digits and _, beginning with a letter, then .yaml',
  };
}

/** Where the text itself is at fault (an alias, a tag), what the schema makes of it says nothing more. */
function oncePerPlace(problems: readonly Problem[]): Problem[] {
  const place = (p: Problem) => `${p.file}:${p.line}:${p.column}`;
  const text = new Set(problems.filter((p) => p.code === 'yaml.unsupported').map(place));
  return problems.filter((p) => p.code === 'yaml.unsupported' || !text.has(place(p)));
}

/** The candidate of that file and its variants. */
function readCandidate(
  name: string,
  documents: ReadonlyMap<string, SourceDocument>,
  names: readonly string[],
  parts: OwnParts,
  problems: Problem[],
): ResolvedCandidate[] {
  const document = wholeCandidate(name, documents, names, problems);
  if (!document) return [];
  const found = take(problems, resolveCandidate(document, { parts, id: name })).candidate;
  // A fault of the candidate is told once, not again for each of its variants.
  if (!found) return [];
  const variants = found.variants.flatMap((variant) => {
    const result = resolveCandidate(document, { parts, id: name, variant });
    // The candidate itself is sound, so the variant is at fault, wherever that shows.
    const faults = result.problems.filter((p) => p.severity === 'error');
    problems.push(...faults.map((p) => ({ ...p, message: `in the variant \`${variant}\`: ${p.message}` })));
    return result.candidate ?? [];
  });
  return [found, ...variants];
}

/** The file itself, or its base with its differences laid over it. */
function wholeCandidate(
  name: string,
  documents: ReadonlyMap<string, SourceDocument>,
  names: readonly string[],
  problems: Problem[],
): SourceDocument | undefined {
  const document = documents.get(`candidates/${name}.yaml`);
  if (!document || valueAt(document.data, ['base']) === undefined) return document;
  const { data } = take(problems, checkStructure(differenceSchema, document));
  if (!data) return undefined;
  const refuse = (message: string, extra: { expected?: string; hint?: string }): undefined => {
    problems.push(problemAt(document, ['base'], 'value', 'name.unknown', message, { found: data.base, ...extra }));
  };
  const chain = basesOf(name, documents);
  if (chain.at(-1) === name)
    return refuse(`${name} is based on itself: ${chain.join(' → ')}`, {
      hint: 'base it on a candidate that is complete',
    });
  if (!names.includes(data.base)) {
    const near = nearestName(data.base, names);
    return refuse(`there is no candidate \`${data.base}\``, {
      expected: `one of ${names.filter((n) => n !== name).join(', ')}`,
      ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
    });
  }
  const base = wholeCandidate(data.base, documents, names, []);
  if (!base) return refuse(`the base \`${data.base}\` cannot be used`, { hint: 'mend it first' });
  const changed = take(problems, withDifferences(base, document, ['set'])).document;
  if (!changed) return undefined;
  const title = { ...(changed.data as object), candidate: data.candidate, note: data.note ?? '', variants: undefined };
  return { ...changed, data: withoutUndefined(title) };
}

/** The name of a candidate's file, without its variant. */
const fileId = (candidate: ResolvedCandidate): string => candidate.id.split('+')[0]!;

/** The file, its base, the base of that and so on; ends where one comes again. */
function basesOf(name: string, documents: ReadonlyMap<string, SourceDocument>): string[] {
  const chain = [name];
  for (;;) {
    const next = valueAt(documents.get(`candidates/${chain.at(-1)}.yaml`)?.data, ['base']);
    if (typeof next !== 'string') return chain;
    const again = chain.includes(next);
    chain.push(next);
    if (again) return chain;
  }
}

const withoutUndefined = (o: object): object =>
  Object.fromEntries(Object.entries(o).filter(([, value]) => value !== undefined));
