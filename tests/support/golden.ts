/**
 * Golden files: results as text, one thing a line, so that a change shows as a readable difference. They are rewritten
 * only when UPDATE_GOLDEN=1 is set.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { expect } from 'vitest';

/** Compares with `tests/golden/<name>`. */
export function expectGolden(name: string, text: string): void {
  const file = resolve(__dirname, '../golden', name);
  if (process.env.UPDATE_GOLDEN === '1') {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return;
  }
  expect(existsSync(file), `${name} is missing: set UPDATE_GOLDEN=1 to write it`).toBe(true);
  expect(text).toBe(readFileSync(file, 'utf8'));
}

/** A number for a golden file. */
export const rounded = (value: number, decimals = 2): string => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
};
