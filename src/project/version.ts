/**
 * The version of the file format, and the way from every older one. A change that an older program would misread
 * raises the version and adds a migration; a new field with a safe default needs neither.
 */
export const projectFormat = 'girthwise-project';
export const projectVersion = 1;

type Raw = Readonly<Record<string, unknown>>;

/** `migrations[n]` turns a file of version n into one of version n + 1. There is only version 1 so far. */
export const migrations: Readonly<Record<number, (file: Raw) => Raw>> = {};

/**
 * Brings a file of an older version up to `target`, step by step.
 * @returns null when a step is missing, which means that the version never existed.
 */
export function migrate(
  file: Raw,
  from: number,
  target: number = projectVersion,
  steps: Readonly<Record<number, (file: Raw) => Raw>> = migrations,
): Raw | null {
  let now = file;
  for (let version = from; version < target; version++) {
    const step = steps[version];
    if (!step) return null;
    now = step(now);
  }
  return now;
}
