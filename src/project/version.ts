import { type Decisions, defaultDecisions } from '../model';

/**
 * The version of the file format, and the way from every older one. A change that an older program would misread
 * raises the version and adds a migration; a new field with a safe default needs neither.
 */
export const projectFormat = 'girthwise-project';
export const projectVersion = 6;

type Raw = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Version 1 knew no folded shell: what a person decides about it gets its usual value. What is damaged stays so. */
function withShell(file: Raw): Raw {
  const { decisions } = file;
  if (!isRecord(decisions)) return file;
  const { seams, shell, fit, pages } = defaultDecisions;
  const added: Readonly<Record<string, Raw>> = {
    seams: { findRest: seams.findRest },
    fit: { measures: fit.measures, brow: fit.brow },
    pages: { half: pages.half },
  };
  const filled = Object.entries(added).flatMap(([section, fields]) => {
    const given = decisions[section];
    return isRecord(given) ? [[section, { ...fields, ...given }] as const] : [];
  });
  return { ...file, decisions: { shell, ...decisions, ...Object.fromEntries(filled) } };
}

/** Sections of decisions that an older version did not have, with their usual values. */
const withSections =
  (...names: readonly (keyof typeof defaultDecisions)[]) =>
  (file: Raw): Raw => {
    if (!isRecord(file.decisions)) return file;
    const added = Object.fromEntries(names.map((name) => [name, defaultDecisions[name]]));
    return { ...file, decisions: { ...added, ...file.decisions } };
  };

/** Version 3 knew one thickness and two ways to cut a seam: what a person decides about edges gets its usual value. */
function withEdges(file: Raw): Raw {
  const { decisions } = file;
  if (!isRecord(decisions) || !isRecord(decisions.foam)) return file;
  const usual = defaultDecisions.foam;
  const { flush, thicknessOf, material, materialOf, flushBelow, lapOver } = usual;
  const { foldPreparation, foldPreparationOf, scoreFrom, scoreDepth } = usual;
  const added = {
    ...{ flush, thicknessOf, material, materialOf, flushBelow, lapOver },
    ...{ foldPreparation, foldPreparationOf, scoreFrom, scoreDepth },
  };
  return { ...file, decisions: { ...decisions, foam: { ...added, ...decisions.foam } } };
}

/** Fields of sections that an older version did not have, with their usual values. */
const withFields =
  (added: { readonly [S in keyof Decisions]?: readonly (keyof Decisions[S])[] }) =>
  (file: Raw): Raw => {
    const { decisions } = file;
    if (!isRecord(decisions)) return file;
    const filled = Object.entries(added).flatMap(([section, names]) => {
      const given = decisions[section];
      if (!isRecord(given)) return [];
      const usual: Raw = { ...defaultDecisions[section as keyof Decisions] };
      return [[section, { ...Object.fromEntries(names.map((n) => [n, usual[n]])), ...given }] as const];
    });
    return { ...file, decisions: { ...decisions, ...Object.fromEntries(filled) } };
  };

/** Version 4 knew no printer's reach, no troupe, no sheets and no extra parts. */
const withNewSections = (file: Raw): Raw =>
  withFields({ pages: ['reach'], foam: ['squeeze', 'bendTest'], panels: ['pairWithin'] })(
    withSections('troupe', 'sheets', 'extras')(file),
  );

/** `migrations[n]` turns a file of version n into one of version n + 1. */
export const migrations: Readonly<Record<number, (file: Raw) => Raw>> = {
  1: withShell,
  2: withSections('panels', 'cutting', 'build'),
  3: withEdges,
  4: withNewSections,
  // Version 5 knew no visors, no relief darts and no half patterns: what it has means the same.
  5: withFields({ seams: ['half'] }),
};

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
