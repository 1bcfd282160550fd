/**
 * Builds the program: TypeScript of every layer, and the libraries that it uses, into a few files under dist/.
 *
 * A process that starts during a build must find a working program. So every build is a folder of its own,
 * dist/<id>/, that never changes again; the four entries in dist/ are one-line files that point into it and are replaced
 * by renaming; the stamp comes last. Earlier builds stay for a day, because a process that runs one may still load parts
 * of it.
 *
 * `--types` adds the declarations for users of the library, `--force` builds even if nothing changed, `--clean` removes
 * earlier builds.
 */
import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { withLock } from './lock.mjs';
import { builtStamp, sourceStamp } from './stamp.mjs';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const ENTRIES = ['cli', 'kernel', 'project', 'study'];
const KEEP_OLD_MS = 24 * 3600 * 1000;
/** For packing: nothing but the present build. */
const CLEAN = process.argv.includes('--clean');

/** Builds if a source changed. Returns 'ready' or 'built'. */
export async function build({ root = ROOT, force = false, say = () => {} } = {}) {
  if (!force && builtStamp(root) === sourceStamp(root)) return 'ready';
  return withLock(
    join(root, '.cache', 'build.lock'),
    async () => {
      const stamp = sourceStamp(root); // taken before reading the sources: a change during the build builds again
      if (!force && builtStamp(root) === stamp) return 'ready';
      const start = performance.now();
      await bundle(root, stamp);
      say(`build: done in ${((performance.now() - start) / 1000).toFixed(1)} s`);
      return 'built';
    },
    () => say('build: waiting for another build to finish'),
  );
}

async function bundle(root, stamp) {
  const vite = await import('vite');
  const temporary = join(root, '.cache', `build-${process.pid}`);
  rmSync(temporary, { recursive: true, force: true });
  try {
    const result = await vite.build({
      root,
      configFile: false,
      logLevel: 'error',
      ssr: { noExternal: true, target: 'node' },
      build: {
        ssr: true,
        target: 'node20',
        outDir: temporary,
        emptyOutDir: true,
        minify: false,
        reportCompressedSize: false,
        rolldownOptions: {
          input: Object.fromEntries(ENTRIES.map((name) => [name, join(root, 'src', name, 'index.ts')])),
          external: [/^node:/],
          // names stay: a stack trace from a user must be readable; without white space the program loads a third faster
          output: {
            format: 'esm',
            entryFileNames: '[name].mjs',
            chunkFileNames: 'chunks/[name]-[hash].mjs',
            minify: { compress: true, mangle: false, codegen: { removeWhitespace: true } },
          },
        },
      },
    });
    const outputs = (Array.isArray(result) ? result : [result]).flatMap((part) => part.output);
    const modules = outputs.flatMap((file) => Object.keys(file.modules ?? {}));
    writeFileSync(join(temporary, 'THIRD-PARTY-LICENSES.txt'), notices(modules));
    install(temporary, join(root, 'dist'), stamp);
  } finally {
    rmSync(temporary, { recursive: true, force: true });
  }
}

function install(from, dist, stamp) {
  const id = `b-${stamp.slice(0, 12)}-${process.pid}`;
  mkdirSync(dist, { recursive: true });
  renameSync(join(from, 'THIRD-PARTY-LICENSES.txt'), join(dist, 'THIRD-PARTY-LICENSES.txt'));
  renameSync(from, join(dist, id));
  for (const name of ENTRIES) replace(join(dist, `${name}.mjs`), `export * from './${id}/${name}.mjs';\n`);
  replace(join(dist, '.stamp'), stamp);
  for (const name of readdirSync(dist)) {
    const path = join(dist, name);
    if (name.startsWith('b-') && name !== id && (CLEAN || Date.now() - statSync(path).mtimeMs > KEEP_OLD_MS))
      rmSync(path, { recursive: true });
  }
}

function replace(path, text) {
  writeFileSync(`${path}.new`, text);
  renameSync(`${path}.new`, path);
}

/** Licence texts of the libraries inside the bundle: their licences ask for them wherever their code goes. */
function notices(modules) {
  const inside = `${sep}node_modules${sep}`;
  const folders = new Set();
  for (const id of modules) {
    const path = id.replace(/^\0/, '').replace(/\?.*$/, '');
    const at = path.lastIndexOf(inside);
    if (at < 0) continue;
    const [scope, name] = path.slice(at + inside.length).split(sep);
    folders.add(path.slice(0, at + inside.length) + (scope.startsWith('@') ? `${scope}${sep}${name}` : scope));
  }
  const parts = [...folders].sort().map((folder) => {
    const about = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const file = readdirSync(folder).find((name) => /^(licen[cs]e|copying)/i.test(name));
    const text = file ? readFileSync(join(folder, file), 'utf8').trim() : `Licence: ${about.license}`;
    return `${about.name} ${about.version} (${about.license})\n\n${text}\n`;
  });
  return `The program contains these libraries:\n\n${parts.join(`\n${'-'.repeat(72)}\n\n`)}`;
}

/** Declarations of the three library entries, with imports that an installed package can follow. */
export function buildTypes(root = ROOT) {
  const out = join(root, 'dist', 'types');
  rmSync(out, { recursive: true, force: true });
  const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
  const done = spawnSync(process.execPath, [tsc, '-p', join(root, 'tsconfig.types.json')], { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`types: ${done.stdout}${done.stderr}`);
  for (const path of declarations(out)) {
    const toLayer = (layer) => {
      const way = relative(dirname(path), join(out, layer, 'index.js'))
        .split(sep)
        .join('/');
      return way.startsWith('.') ? way : `./${way}`;
    };
    const text = readFileSync(path, 'utf8')
      .replace(/(["'])#(kernel|project|study)\1/g, (_, quote, layer) => quote + toLayer(layer) + quote)
      .replace(/(["'])(\.\.?\/[^"']+)\.ts\1/g, '$1$2.js$1');
    writeFileSync(path, text);
  }
}

function* declarations(dir) {
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) yield* declarations(path);
    else if (entry.name.endsWith('.d.ts')) yield path;
  }
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const { setup, SetupError } = await import('./setup.mjs');
  try {
    await setup();
    const say = (line) => process.stderr.write(`${line}\n`);
    if ((await build({ force: process.argv.includes('--force'), say })) === 'ready') say('build: nothing to do');
    if (process.argv.includes('--types')) buildTypes();
  } catch (error) {
    process.stderr.write(`${error instanceof SetupError ? error.message : (error.stack ?? error)}\n`);
    process.exitCode = 1;
  }
}
