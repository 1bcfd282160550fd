import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { readBrief } from './brief.ts';
import { readOwnParts } from './parts-file.ts';
import { candidateSchema, differenceSchema } from './schema/candidate-schema.ts';
import { checkStructure } from './schema/check-structure.ts';
import { readDocument } from './text.ts';

const PAGE = readFileSync(new URL('../../docs/project-files.md', import.meta.url), 'utf8');
const blocks = [...PAGE.matchAll(/^```yaml\n(.*?)^```$/gms)].map((match) => match[1]!);
const block = (key: string): string => {
  const found = blocks.filter((text) => new RegExp(`^${key}:`, 'm').test(text));
  expect(found.length, key).toBe(1);
  return found[0]!;
};
const open = (text: string) => {
  const { document, problems } = readDocument('page.yaml', text);
  expect(problems).toEqual([]);
  return document!;
};
const structure = <T>(schema: z.ZodType<T>, text: string) => checkStructure(schema, open(text)).problems;

describe('the page docs/project-files.md', () => {
  it('shows a candidate and a file of differences that have the right structure', () => {
    expect(structure(candidateSchema, block('stations'))).toEqual([]);
    expect(structure(differenceSchema, block('base'))).toEqual([]);
  });
  it('names every field of a candidate', () => {
    const candidate = block('stations');
    for (const field of Object.keys(candidateSchema.shape)) expect(candidate).toMatch(new RegExp(`^${field}:`, 'm'));
  });
  it('shows a brief and own parts that can be read', () => {
    expect(readBrief(open(block('brief'))).problems).toEqual([]);
    const { parts, problems } = readOwnParts(open(blocks.find((text) => text.includes('like: saddle city'))!));
    expect(problems).toEqual([]);
    expect([...parts.keys()]).toEqual(['bench saddle', 'wheel 40-406 front']);
  });
});
