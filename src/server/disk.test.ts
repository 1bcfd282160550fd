import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { ABSENT, READ_LIMITS, readProjectFolder, writeProjectFile } from './index.ts';

let base: string;
let project: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'foldwright-disk-'));
  project = join(base, 'project');
  mkdirSync(join(project, 'candidates'), { recursive: true });
  writeFileSync(join(project, 'brief.yaml'), 'format: 1\nbrief: Ünïcode\n');
  writeFileSync(join(project, 'candidates', 'a.yaml'), 'format: 1\n');
});
afterEach(() => rmSync(base, { recursive: true, force: true }));
const put = (name: string, content: string | Uint8Array): void => writeFileSync(join(base, name), content);
const codes = (read: { problems: readonly { code: string; file: string }[] }) =>
  read.problems.map((p) => `${p.code} ${p.file}`);

describe('reading a project folder', () => {
  test('gives every project file as text under its path, and nothing else', async () => {
    mkdirSync(join(project, 'out'));
    put('project/out/old.yaml', 'x');
    put('project/.hidden.yaml', 'x');
    put('project/photo.jpg', 'x');
    const read = await readProjectFolder(project);
    expect([...read.files.keys()]).toEqual(['brief.yaml', 'candidates/a.yaml']);
    expect(read.files.get('brief.yaml')).toBe('format: 1\nbrief: Ünïcode\n');
    expect(read.problems).toEqual([]);
  });

  test('keeps a byte order mark and line ends, so that saving can leave them alone', async () => {
    put('project/brief.yaml', '\ufeffformat: 1\r\n');
    expect((await readProjectFolder(project)).files.get('brief.yaml')).toBe('\ufeffformat: 1\r\n');
  });

  test('gives bytes where a file is not UTF-8', async () => {
    put('project/brief.yaml', new Uint8Array([0x66, 0xff, 0xfe]));
    expect((await readProjectFolder(project)).files.get('brief.yaml')).toEqual(new Uint8Array([0x66, 0xff, 0xfe]));
  });

  test('reports a file over the limit without reading it', async () => {
    put('project/candidates/a.yaml', 'x'.repeat(2000));
    const read = await readProjectFolder(project, { ...READ_LIMITS, fileBytes: 1000 });
    expect(codes(read)).toEqual(['file.too_large candidates/a.yaml']);
    expect([...read.files.keys()]).toEqual(['brief.yaml']);
  });

  test('stops at the total and at the number of files', async () => {
    expect(codes(await readProjectFolder(project, { ...READ_LIMITS, totalBytes: 30 }))).toEqual([
      'file.too_large candidates/a.yaml',
    ]);
    expect(codes(await readProjectFolder(project, { ...READ_LIMITS, files: 1 }))).toEqual([
      'file.too_large candidates/a.yaml',
    ]);
  });

  test('does not follow a link out of the folder, but one inside it', async () => {
    put('secret.yaml', 'secret');
    symlinkSync(join(base, 'secret.yaml'), join(project, 'candidates', 'b.yaml'));
    symlinkSync(join(project, 'candidates', 'a.yaml'), join(project, 'candidates', 'c.yaml'));
    symlinkSync(base, join(project, 'linked.yaml'));
    symlinkSync(join(project, 'nowhere.yaml'), join(project, 'candidates', 'd.yaml'));
    const read = await readProjectFolder(project);
    expect([...read.files.keys()]).toEqual(['brief.yaml', 'candidates/a.yaml', 'candidates/c.yaml']);
    expect(codes(read)).toEqual([
      'file.outside candidates/b.yaml',
      'file.missing candidates/d.yaml',
      'file.outside linked.yaml',
    ]);
  });

  test('says that a folder is missing or is a file', async () => {
    expect(codes(await readProjectFolder(join(base, 'none')))[0]).toContain('file.missing');
    expect((await readProjectFolder(join(project, 'brief.yaml'))).problems[0]!.message).toContain(
      'not a project folder',
    );
  });
});

describe('writing a project file', () => {
  test('replaces the whole file, keeps its mode and leaves no temporary file', async () => {
    chmodSync(join(project, 'brief.yaml'), 0o600);
    const read = await readProjectFolder(project);
    const result = await writeProjectFile(
      project,
      'brief.yaml',
      'format: 1\nnew\n',
      read.fingerprints.get('brief.yaml'),
    );
    const again = await readProjectFolder(project);
    expect(result).toEqual({ fingerprint: again.fingerprints.get('brief.yaml') });
    expect(readFileSync(join(project, 'brief.yaml'), 'utf8')).toBe('format: 1\nnew\n');
    expect(statSync(join(project, 'brief.yaml')).mode & 0o777).toBe(0o600);
    expect(readdirSync(project).sort()).toEqual(['brief.yaml', 'candidates']);
  });

  test('leaves a file alone that changed since it was read', async () => {
    const read = await readProjectFolder(project);
    put('project/brief.yaml', 'edited elsewhere');
    const result = await writeProjectFile(project, 'brief.yaml', 'mine', read.fingerprints.get('brief.yaml'));
    expect(result).toMatchObject({ problem: { code: 'file.changed', file: 'brief.yaml' } });
    expect(readFileSync(join(project, 'brief.yaml'), 'utf8')).toBe('edited elsewhere');
    expect(readdirSync(project).sort()).toEqual(['brief.yaml', 'candidates']);
  });

  test('does not revive a removed file or overwrite one that should be new', async () => {
    const read = await readProjectFolder(project);
    rmSync(join(project, 'brief.yaml'));
    expect(await writeProjectFile(project, 'brief.yaml', 'x', read.fingerprints.get('brief.yaml'))).toHaveProperty(
      'problem',
    );
    expect(await writeProjectFile(project, 'candidates/a.yaml', 'x', ABSENT)).toHaveProperty('problem');
    expect(await writeProjectFile(project, 'candidates/new/b.yaml', 'x', ABSENT)).toHaveProperty('fingerprint');
  });

  test.each([
    '../escape.yaml',
    '/escape.yaml',
    'candidates/../../escape.yaml',
    '.',
    'gate/escape.yaml',
    'dangling.yaml',
  ])('refuses %s, which lies outside', async (name) => {
    symlinkSync(base, join(project, 'gate'));
    symlinkSync(join(base, 'escape.yaml'), join(project, 'dangling.yaml'));
    const before = readdirSync(base);
    expect(await writeProjectFile(project, name, 'x', undefined)).toMatchObject({ problem: { code: 'file.outside' } });
    expect(readdirSync(base)).toEqual(before);
  });
});
