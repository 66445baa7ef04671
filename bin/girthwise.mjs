#!/usr/bin/env node
// The command line's door. The program is TypeScript: it is bundled into dist-cli/ once per state of its sources (a
// second or two, silently) and loaded from there afterwards. Where that folder can't be written, the sources are run
// directly, which takes a little longer to start.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const out = join(root, 'dist-cli');

/** Changes with any source file or library version. */
function stateOfSources() {
  const hash = createHash('sha256').update(process.version);
  const add = (path) => {
    const { mtimeMs, size } = statSync(path);
    hash.update(`${path}\0${size}\0${mtimeMs}\n`);
  };
  const walk = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) =>
      a.name < b.name ? -1 : 1,
    )) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (entry.name.endsWith('.ts')) add(path);
    }
  };
  walk(join(root, 'src'));
  add(join(root, 'package-lock.json'));
  add(fileURLToPath(import.meta.url));
  return hash.digest('hex').slice(0, 16);
}

async function bundle(target) {
  const { build } = await import('vite');
  const draft = `${target}.${process.pid}`;
  try {
    await build({
      root,
      configFile: false,
      logLevel: 'silent',
      // The solid library looks for its WebAssembly beside itself, and is only loaded for a dry fit.
      ssr: { noExternal: true, external: ['manifold-3d'] },
      build: {
        ssr: 'src/cli/index.ts',
        outDir: draft,
        target: 'node20',
        copyPublicDir: false,
        rolldownOptions: { output: { entryFileNames: 'girthwise.mjs', chunkFileNames: '[name].mjs' } },
      },
    });
    try {
      renameSync(draft, target);
    } catch (error) {
      // Another run may have put the same bundle there meanwhile; either will do.
      if (!existsSync(target)) throw error;
    }
  } finally {
    rmSync(draft, { recursive: true, force: true });
  }
  removeOld(target);
}

/** Bundles of earlier states, once nobody can be loading them any more. */
function removeOld(keep) {
  for (const name of readdirSync(out)) {
    const path = join(out, name);
    if (path !== keep && Date.now() - statSync(path).mtimeMs > 3_600_000)
      rmSync(path, { recursive: true, force: true });
  }
}

async function load() {
  const target = join(out, stateOfSources());
  const file = join(target, 'girthwise.mjs');
  try {
    if (!existsSync(file)) {
      mkdirSync(out, { recursive: true });
      await bundle(target);
    }
    return await import(pathToFileURL(file).href);
  } catch (error) {
    if (!['EACCES', 'EROFS', 'EPERM', 'ENOSPC'].includes(error?.code)) throw error;
    const { tsImport } = await import('tsx/esm/api');
    return await tsImport('../src/cli/index.ts', import.meta.url);
  }
}

// Whoever reads the output may stop reading (a pager, `head`); that is no fault.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error) => {
    if (error.code !== 'EPIPE') throw error;
    process.exit();
  });
}

const { main } = await load();
process.exitCode = await main(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  error: (text) => process.stderr.write(text),
});
