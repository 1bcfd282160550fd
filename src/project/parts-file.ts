/** `parts.yaml`: own parts, each like a built-in one with other values. */
import { partParameters } from './data/parts.ts';
import type { Problem } from './problems.ts';
import { type OwnPart, type OwnParts, partBehind, readPartValues, valuesNow } from './resolve/part-values.ts';
import { newReader } from './resolve/reader.ts';
import { checkStructure } from './schema/check-structure.ts';
import { partsSchema } from './schema/project-schema.ts';
import type { SourceDocument } from './text.ts';

/** Own parts by name. Their numbers are plain: parts.yaml knows no dimensions. */
export function readOwnParts(document: SourceDocument): { parts: OwnParts; problems: Problem[] } {
  const { data, problems } = checkStructure(partsSchema, document);
  const parts = new Map<string, OwnPart>();
  if (!data) return { parts, problems };
  const reader = newReader(document, new Map());
  for (const [name, entry] of Object.entries(data.parts)) {
    const path = ['parts', name];
    const like = entry.like ?? name;
    if (!partParameters(like)) {
      partBehind(reader, entry.like === undefined ? path : [...path, 'like'], like, new Map());
      continue;
    }
    const values = readPartValues(reader, path, like, entry);
    parts.set(name, { like, values: valuesNow(values, Float64Array.from(reader.program.initial)) });
  }
  return { parts, problems: [...problems, ...reader.problems] };
}
