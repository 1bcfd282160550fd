/**
 * One process at a time: a lock that is a directory, because making a directory succeeds for exactly one caller.
 *
 * The holder touches the directory every few seconds. It counts as abandoned when its process is gone (same host) or
 * when nothing touched it for `STALE_MS` (another host, or the process number was given to somebody else). Taking an
 * abandoned lock over happens under a second directory, so that two waiters cannot both decide that the same old lock
 * is dead and one of them remove the other's new one.
 */
import { mkdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';

const POLL_MS = 100;
const BEAT_MS = 3_000;
/** Ten missed beats: a machine so busy that it misses them all would be unusable anyway. */
const STALE_MS = 30_000;
/** Between making the directory and writing the owner into it lies one system call. */
const NAMELESS_MS = 3_000;

const sleep = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

const alive = (pid) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
};

const tryMake = (dir) => {
  try {
    mkdirSync(dir);
    return true;
  } catch (error) {
    if (error.code === 'EEXIST') return false;
    throw error;
  }
};

const age = (path) => {
  try {
    return Date.now() - statSync(path).mtimeMs;
  } catch {
    return Number.NaN; // gone meanwhile
  }
};

const abandoned = (dir) => {
  const idle = age(dir);
  if (Number.isNaN(idle)) return false;
  let owner;
  try {
    owner = JSON.parse(readFileSync(join(dir, 'owner.json'), 'utf8'));
  } catch {
    return idle > NAMELESS_MS;
  }
  if (owner.host === hostname() && !alive(owner.pid)) return true;
  return idle > STALE_MS;
};

const takeOver = (dir) => {
  const guard = `${dir}.takeover`;
  if (!tryMake(guard)) {
    if (age(guard) > STALE_MS) rmSync(guard, { recursive: true, force: true });
    return false;
  }
  try {
    if (!abandoned(dir)) return false;
    rmSync(dir, { recursive: true, force: true });
    return tryMake(dir);
  } finally {
    rmSync(guard, { recursive: true, force: true });
  }
};

/**
 * Runs `work` while holding the lock `dir`; waits for another holder first and calls `waiting` once if it has to.
 * @throws whatever `work` throws; the lock is released either way.
 */
export async function withLock(dir, work, waiting = () => {}) {
  mkdirSync(dirname(dir), { recursive: true });
  let told = false;
  while (!tryMake(dir)) {
    if (abandoned(dir) && takeOver(dir)) break;
    if (!told) waiting();
    told = true;
    await sleep(POLL_MS);
  }
  writeFileSync(join(dir, 'owner.json'), JSON.stringify({ pid: process.pid, host: hostname() }));
  const beat = setInterval(() => {
    try {
      utimesSync(dir, new Date(), new Date());
    } catch {
      // The folder was removed by hand: nothing to keep alive.
    }
  }, BEAT_MS);
  const release = () => rmSync(dir, { recursive: true, force: true });
  process.once('exit', release);
  try {
    return await work();
  } finally {
    clearInterval(beat);
    process.off('exit', release);
    release();
  }
}
