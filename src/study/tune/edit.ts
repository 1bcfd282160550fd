/**
 * Sections written into a candidate's text, and the proof: the changed text is read, resolved and judged again, and what
 * it then says is compared with what the text said before. It is the edit that is shown to hold, not the model.
 */
import { type Edit, insertKey, type Problem, type ResolvedCandidate, readProject, setValue, valueAt } from '#project';
import type { LedgerRow } from '../judge.ts';
import { type Judged, judgeCandidate, openWorkspace, type Workspace } from '../workspace.ts';

/** One tube's section: the member's number in the model, and the text. */
export interface SectionEdit {
  readonly member: number;
  readonly section: string;
}
export interface Proof {
  readonly source: string;
  readonly judged: Judged;
  /** Demands that held before and miss now. */
  readonly broken: readonly LedgerRow[];
  /** Problems that the text did not have before. */
  readonly problems: readonly Problem[];
}

const partsOf = (id: string): [string, string | undefined] => id.split('+') as [string, string | undefined];

/** `bodies.rear.tubes.beam.section`, as variants name it. */
function dotted(candidate: ResolvedCandidate, member: number): string {
  const [, body, , index] = candidate.paths.members[member]!;
  const named = candidate.data.bodies[String(body)]!.tubes![Number(index)]!.name;
  return `bodies.${String(body)}.tubes.${named ?? String(index)}.section`;
}

/** The text of the candidate's file with these sections: in place, or, for a variant or a candidate with a base, among its settings. */
export function writeSections(w: Workspace, candidate: ResolvedCandidate, edits: readonly SectionEdit[]): Edit {
  const document = w.project.documents.get(candidate.file);
  if (!document) return { refused: `there is no text of ${candidate.file}` };
  const [, variant] = partsOf(candidate.id);
  const based = valueAt(document.data, ['base']) !== undefined;
  const settings = variant !== undefined ? ['variants', variant, 'set'] : based ? ['set'] : undefined;
  let { source } = document;
  for (const { member, section } of edits) {
    const key = dotted(candidate, member);
    const edit = !settings
      ? setValue(source, [...candidate.paths.members[member]!, 'section'], section)
      : valueAt(document.data, [...settings, key]) === undefined
        ? insertKey(source, settings, key, section)
        : setValue(source, [...settings, key], section);
    if (edit.source === undefined) return edit;
    source = edit.source;
  }
  return { source };
}

/** The text with these sections as a new variant: what stands in the file stays. */
export function writeVariant(
  w: Workspace,
  candidate: ResolvedCandidate,
  edits: readonly SectionEdit[],
  variant: string,
): Edit {
  const document = w.project.documents.get(candidate.file);
  if (!document) return { refused: `there is no text of ${candidate.file}` };
  if (partsOf(candidate.id)[1] !== undefined || valueAt(document.data, ['base']) !== undefined)
    return { refused: `${candidate.id} is itself a set of differences: write into it, or into its base` };
  if (valueAt(document.data, ['variants', variant]) !== undefined)
    return { refused: `${candidate.id} has a variant ${variant} already` };
  const set = `{set: {${edits.map((e) => `${dotted(candidate, e.member)}: ${e.section}`).join(', ')}}}`;
  return valueAt(document.data, ['variants']) === undefined
    ? insertKey(document.source, [], 'variants', `{${variant}: ${set}}`)
    : insertKey(document.source, ['variants'], variant, set);
}

/**
 * Reads the changed text as the project would and judges the candidate in it.
 * @param before the candidate judged on its demands as the file stands. @param id of the candidate to judge in the new text.
 * @returns why the text cannot be used, where it cannot.
 */
export function prove(
  w: Workspace,
  before: Judged,
  source: string,
  id: string,
  only: ReadonlySet<string>,
): Proof | { readonly refused: string } {
  const { file } = before.candidate;
  const files = new Map([...w.project.documents].map(([name, d]) => [name, name === file ? source : d.source]));
  const read = readProject(files);
  const mine = read.problems.filter((p) => p.file === file);
  const candidate = read.project?.candidates.find((c) => c.id === id);
  if (!read.project || !candidate) return { refused: mine[0]?.message ?? 'the changed text cannot be read' };
  const judged = judgeCandidate(openWorkspace(read.project), candidate, ['drag', 'settle', 'ask'], only);
  const held = new Set(before.ledger.rows.filter((r) => r.kind === 'demand' && r.holds).map(keyOf));
  const old = new Set(problemsOf(w, file).map(placeOf));
  return {
    source,
    judged,
    broken: judged.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds && held.has(keyOf(r))),
    problems: mine.filter((p) => !old.has(placeOf(p))),
  };
}
const placeOf = (p: Problem): string => `${p.code} ${p.path}`;
const keyOf = (r: LedgerRow): string => `${r.quantity} ${r.sense}`;

function problemsOf(w: Workspace, file: string): readonly Problem[] {
  const files = new Map([...w.project.documents].map(([name, d]) => [name, d.source]));
  return readProject(files).problems.filter((p) => p.file === file);
}
