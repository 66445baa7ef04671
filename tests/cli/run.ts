/** Runs the command line: as the real program in a process of its own, or in this one where only words matter. */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { main } from '../../src/cli';

const root = resolve(import.meta.dirname, '../..');

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly error: string;
}

export function run(...args: readonly string[]): Promise<Ran> {
  return new Promise((done, failed) => {
    const child = spawn(process.execPath, [resolve(root, 'bin/girthwise.mjs'), ...args], { cwd: root });
    let out = '';
    let error = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      error += text;
    });
    child.on('error', failed);
    child.on('close', (status) => done({ status, out, error }));
  });
}

/** The same without a new process: for complaints about the command line, of which there are many. */
export async function call(...args: readonly string[]): Promise<Ran> {
  let out = '';
  let error = '';
  const status = await main(args, {
    out: (text) => {
      out += text;
    },
    error: (text) => {
      error += text;
    },
  });
  return { status, out, error };
}

/** Starting a process and, the first time, bundling the program takes its time on a busy machine. */
export const patience = 180_000;
