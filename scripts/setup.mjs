/**
 * Puts the packages of package-lock.json into node_modules, and does nothing when they are there already.
 *
 * Development packages are always included: `--include` outranks NODE_ENV=production and any `omit` of the user's own
 * npm settings. Optional packages too, because the native parts of the compiler and the linter are optional packages.
 * The stamp is the hash of the lock file and the platform (native parts differ by platform; none depends on the Node
 * version) and is written last, so an interrupted installation is repeated.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { withLock } from './lock.mjs';

export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));

const OFFLINE =
  /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|ENOTCACHED|ERR_SOCKET_TIMEOUT|fetch failed/;

export class SetupError extends Error {}

const wanted = (root) => {
  let lock;
  try {
    lock = readFileSync(join(root, 'package-lock.json'));
  } catch {
    throw new SetupError('setup: package-lock.json is missing; without it the exact versions are unknown');
  }
  return {
    lock,
    stamp: createHash('sha256').update(lock).update(`${process.platform} ${process.arch}`).digest('hex'),
  };
};

const stampFile = (root) => join(root, 'node_modules', '.foldwright-stamp');

const stamped = (root, stamp) => {
  try {
    return readFileSync(stampFile(root), 'utf8') === stamp;
  } catch {
    return false;
  }
};

/** Top-level packages that the project names: a cheap look that catches a folder removed by hand. */
const allThere = (root) => {
  const { dependencies = {}, devDependencies = {} } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  return Object.keys({ ...dependencies, ...devDependencies }).every((name) =>
    existsSync(join(root, 'node_modules', name, 'package.json')),
  );
};

/** True when npm's own record of node_modules holds every package of the lock file: then only the stamp is missing. */
const alreadyInstalled = (root, lock) => {
  let have;
  try {
    have = JSON.parse(readFileSync(join(root, 'node_modules', '.package-lock.json'), 'utf8')).packages;
  } catch {
    return false;
  }
  return Object.entries(JSON.parse(lock.toString('utf8')).packages).every(
    ([path, entry]) =>
      path === '' ||
      (have[path] ? have[path].version === entry.version && have[path].integrity === entry.integrity : entry.optional),
  );
};

const runNpm = (root) =>
  new Promise((resolve) => {
    const npm = process.env.npm_execpath;
    const args = ['ci', '--include=dev', '--include=optional', '--include=peer'];
    args.push('--no-audit', '--no-fund', '--prefer-offline', '--loglevel=error');
    const [command, all] = npm?.endsWith('.js') && /npm/.test(npm) ? [process.execPath, [npm, ...args]] : ['npm', args];
    const child = spawn(command, all, {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: command === 'npm' && process.platform === 'win32',
      env: { ...process.env, npm_config_dry_run: 'false', npm_config_global: 'false' },
    });
    let output = '';
    child.stdout.on('data', (data) => {
      output += data;
    });
    child.stderr.on('data', (data) => {
      output += data;
    });
    child.on('error', (error) => resolve({ code: 1, output: String(error) }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });

/**
 * Installs what is missing. Returns 'ready' when there was nothing to do, else 'installed'.
 * @throws SetupError with a message for the user.
 */
export async function setup({ root = ROOT, say = (line) => process.stderr.write(`${line}\n`) } = {}) {
  const { stamp } = wanted(root);
  if (stamped(root, stamp) && allThere(root)) return 'ready';
  return withLock(
    join(root, '.cache', 'setup.lock'),
    async () => {
      const now = wanted(root); // another process may have installed, or changed the lock file, while this one waited
      if (stamped(root, now.stamp) && allThere(root)) return 'ready';
      if (!(alreadyInstalled(root, now.lock) && allThere(root))) {
        const start = performance.now();
        const { code, output } = await runNpm(root);
        if (code !== 0) throw new SetupError(explain(output));
        if (!allThere(root)) throw new SetupError(`setup: npm ended well but packages are missing\n${output.trim()}`);
        say(`setup: packages installed in ${((performance.now() - start) / 1000).toFixed(0)} s`);
      }
      mkdirSync(join(root, 'node_modules'), { recursive: true });
      const file = stampFile(root);
      writeFileSync(`${file}.${process.pid}`, now.stamp);
      renameSync(`${file}.${process.pid}`, file);
      return 'installed';
    },
    () => say('setup: waiting for another setup to finish'),
  );
}

const explain = (output) => {
  const tail = output.trim().split('\n').slice(-12).join('\n');
  if (/ENOENT/.test(output) && /spawn npm/.test(output)) return 'setup: npm was not found; it comes with Node.js';
  if (OFFLINE.test(output))
    return `setup: the package registry cannot be reached and the packages are not in npm's cache.\nConnect once and run the same command again.\n${tail}`;
  return `setup: npm ci failed\n${tail}`;
};

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  try {
    const result = await setup();
    if (result === 'ready') process.stderr.write('setup: nothing to do\n');
  } catch (error) {
    if (!(error instanceof SetupError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 1;
  }
}
