// Runs the programs of installed packages by their own script files, without a shell, alike on every system.
import { spawn, spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');

export const programs = {
  tsc: 'node_modules/typescript/bin/tsc',
  biome: 'node_modules/@biomejs/biome/bin/biome',
  vitest: 'node_modules/vitest/vitest.mjs',
  vite: 'node_modules/vite/bin/vite.js',
  playwright: 'node_modules/@playwright/test/cli.js',
};

/** Runs a program with inherited output; returns its exit code. */
export function run(program, args, env = {}) {
  const done = spawnSync(process.execPath, [join(root, programs[program]), ...args], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, ...env },
  });
  return done.status ?? 1;
}

/** Runs a program beside others; resolves with its exit code and all that it printed. */
export const runAside = (program, args) => runScript(programs[program], args);

/** The same for a script of this project, its path from the project's folder. */
export function runScript(script, args = []) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(root, script), ...args], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let printed = '';
    const keep = (data) => {
      printed += data;
    };
    child.stdout.setEncoding('utf8').on('data', keep);
    child.stderr.setEncoding('utf8').on('data', keep);
    child.on('error', (fault) => resolve({ code: 1, printed: `${printed}${fault}\n` }));
    child.on('close', (code) => resolve({ code: code ?? 1, printed }));
  });
}
