/** The catalogue as a page for people: docs/reference/quantities.md, written by `npm run docs`. */
import { CATALOGUE } from './catalogue.ts';
import type { Family } from './family.ts';

const STANDING: Readonly<Record<Family['standing'], string>> = {
  published: 'published',
  practice: 'common practice, no source',
  memory: 'default, from memory',
  definition: 'our definition',
};

const entry = (f: Family): string =>
  [
    `### \`${f.id}\``,
    '',
    `**${f.title}**${f.unit ? `, in ${f.unit}` : ''}: ${f.meaning}.`,
    '',
    ...(f.formula ? [`    ${f.symbol} = ${f.formula}`, ''] : []),
    ...(f.steps ?? []).map((step, i) => `${i + 1}. ${step}`),
    ...(f.steps ? [''] : []),
    `Source: ${f.source} (${STANDING[f.standing]}). Valid: ${f.valid}. Tier: ${f.tier}.`,
    ...(f.caution ? ['', `Caution: ${f.caution}`] : []),
    '',
  ].join('\n');

export function quantitiesPage(): string {
  const groups = new Map<string, Family[]>();
  for (const f of CATALOGUE) groups.set(f.id.split('.')[0]!, [...(groups.get(f.id.split('.')[0]!) ?? []), f]);
  const parts = [...groups].map(([name, families]) => `## ${name}\n\n${families.map(entry).join('\n')}`);
  return `# Quantities

Generated from the catalogue; \`npm run docs\` writes it. A demand or wish names one of these; \`{space}\`, \`{body}\`, \`{group}\` and
\`{move}\` stand for names of the brief and the candidate. \`foldwright check --explain QUANTITY\` prints the workings for a candidate.

${parts.join('\n')}`;
}
