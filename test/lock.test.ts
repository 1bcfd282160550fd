import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { withLock } from '../scripts/lock.mjs';

let base: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'foldwright-lock-'));
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

const leaveLock = (owner: object | undefined, age_s: number): string => {
  const lock = join(base, 'lock');
  mkdirSync(lock);
  if (owner) writeFileSync(join(lock, 'owner.json'), JSON.stringify(owner));
  const then = Date.now() / 1000 - age_s;
  utimesSync(lock, then, then);
  return lock;
};
const deadPid = (): number => spawnSync(process.execPath, ['-e', '']).pid;

test('returns what the work returns and leaves no lock, also when the work throws', async () => {
  const lock = join(base, 'deep', 'lock');
  expect(await withLock(lock, async () => 7)).toBe(7);
  await expect(withLock(lock, async () => Promise.reject(new Error('no')))).rejects.toThrow('no');
  expect(existsSync(lock)).toBe(false);
});

test('takes over the lock of a process that is gone', async () => {
  const lock = leaveLock({ pid: deadPid(), host: hostname() }, 0);
  expect(await withLock(lock, async () => 'mine')).toBe('mine');
});

test('takes over a lock that nobody has touched for long, and one whose owner never wrote its name', async () => {
  const lock = leaveLock({ pid: process.pid, host: 'elsewhere' }, 60);
  expect(await withLock(lock, async () => 'mine')).toBe('mine');
  expect(await withLock(leaveLock(undefined, 10), async () => 'mine')).toBe('mine');
});

test('does not take over the lock of a living process: it waits and says so once', async () => {
  const lock = leaveLock({ pid: process.pid, host: hostname() }, 0);
  let told = 0;
  setTimeout(() => rmSync(lock, { recursive: true }), 500);
  const start = performance.now();
  await withLock(
    lock,
    async () => {},
    () => told++,
  );
  expect(performance.now() - start).toBeGreaterThan(400);
  expect(told).toBe(1);
});

test('six processes that find the lock of a dead one do their work one after the other', async () => {
  const lock = leaveLock({ pid: deadPid(), host: hostname() }, 0);
  const log = join(base, 'log');
  const program = `
    import { appendFileSync } from 'node:fs';
    import { withLock } from ${JSON.stringify(new URL('../scripts/lock.mjs', import.meta.url).href)};
    await withLock(${JSON.stringify(lock)}, async () => {
      appendFileSync(${JSON.stringify(log)}, 'in ');
      await new Promise((resolve) => setTimeout(resolve, 40));
      appendFileSync(${JSON.stringify(log)}, 'out ');
    });`;
  const codes = await Promise.all(
    Array.from({ length: 6 }, () => {
      const child = spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: 'inherit' });
      return new Promise((resolve) => child.on('close', resolve));
    }),
  );
  expect(codes).toEqual([0, 0, 0, 0, 0, 0]);
  expect(readFileSync(log, 'utf8')).toBe('in out '.repeat(6));
});
