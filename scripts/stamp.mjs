/** What the built program depends on, as one hash over path, size and change time: cheap enough for every start. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

const isSource = (name) => !name.endsWith('.test.ts') && !name.startsWith('.');

function* sources(dir) {
  const entries = readdirSync(dir, { withFileTypes: true });
  entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const entry of entries) {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) yield* sources(path);
    else if (isSource(entry.name)) yield path;
  }
}

const BESIDE = ['package.json', 'package-lock.json', 'scripts/build.mjs'];

export function sourceStamp(root) {
  const hash = createHash('sha256');
  for (const path of [...sources(join(root, 'src')), ...BESIDE.map((name) => join(root, name))]) {
    const { size, mtimeMs } = statSync(path);
    hash.update(`${path.slice(root.length)} ${size} ${mtimeMs}\n`);
  }
  return hash.digest('hex');
}

/** The stamp of the build in `dist/`, or '' when there is none. */
export function builtStamp(root) {
  try {
    return readFileSync(join(root, 'dist', '.stamp'), 'utf8');
  } catch {
    return '';
  }
}
