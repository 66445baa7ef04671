/**
 * Opens the text of a project file. Whatever the damage: what can be read is kept, every replaced value is an issue
 * with its place, and only a file without a usable pattern (or of a newer version) is refused.
 */
import * as v from 'valibot';
import { fail, type Issue, type Outcome, type Severity, succeed } from '../base';
import { type Decisions, defaultDecisions, type ProjectDocument } from '../model';
import { type AnyField, decisionFields, sourceFields, titleField, unitField } from './fields';
import { readJson } from './json';
import { migrate, projectFormat, projectVersion } from './version';

type Raw = Readonly<Record<string, unknown>>;

interface Report {
  readonly issues: Issue[];
  /** Paths that an issue tells of. */
  readonly told: Set<string>;
}

const isRecord = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const issue = (
  code: string,
  severity: Severity,
  message: string,
  remedy: string,
  at?: { line: number; column: number },
): Issue => ({
  code,
  severity,
  stage: 'project',
  message,
  remedy,
  place: at ? { source: { file: '', line: at.line, column: at.column } } : {},
});

/** @returns the document with an issue for everything that was replaced or left out; or why it can't be opened. */
export function openProject(text: string): Outcome<ProjectDocument> {
  const { value, faults } = readJson(text.replace(/^\uFEFF/, ''));
  const damage = faults.map((f) =>
    issue(
      'project-damaged',
      'repaired',
      `The file is damaged in line ${f.line}, column ${f.column}: ${f.what}.`,
      'What could not be read there is left out; check the decisions of that part.',
      f,
    ),
  );
  if (!isRecord(value)) {
    const first = faults[0];
    const where = first ? ` (line ${first.line}, column ${first.column}: ${first.what})` : '';
    return fail(
      issue(
        'project-not-json',
        'error',
        `This is not a project file: it is not readable as JSON${where}.`,
        'Open a file whose name ends in .girthwise.json, or a pattern as SVG or FOLD.',
        first,
      ),
    );
  }
  if (value.format !== projectFormat && (value.format !== undefined || !isRecord(value.decisions))) {
    return fail(
      issue(
        'project-not-ours',
        'error',
        'This JSON file is not a Girthwise project.',
        'Open a file whose name ends in .girthwise.json, or a pattern as SVG or FOLD.',
      ),
    );
  }
  const { version } = value;
  if (typeof version === 'number' && version > projectVersion) {
    return fail(
      issue(
        'project-newer',
        'error',
        `This project was saved by a newer Girthwise (file version ${version}; this one reads up to ${projectVersion}).`,
        'Update Girthwise, then open it again. The file is unchanged.',
      ),
    );
  }
  const report: Report = { issues: [...damage], told: new Set() };
  let from = projectVersion;
  if (typeof version === 'number' && Number.isInteger(version) && version >= 1) from = version;
  else {
    report.issues.push(
      issue(
        'project-version-missing',
        'repaired',
        `The file does not say its version properly (${shown(version)}); it is read as version ${projectVersion}.`,
        'Check that the decisions are as you left them.',
      ),
    );
  }
  const file = migrate(value, from);
  if (!file) {
    return fail(
      issue(
        'project-version-unknown',
        'error',
        `There is no way to read a project of version ${from}.`,
        'Open it with the Girthwise that saved it, and save it again.',
      ),
    );
  }
  return read(file, report);
}

function read(file: Raw, report: Report): Outcome<ProjectDocument> {
  const sources = readField(sourceFields, file.sources, [], 'sources', report) as ProjectDocument['sources'];
  if (sources.length === 0) {
    return fail(
      ...report.issues,
      issue(
        'project-without-pattern',
        'error',
        'The file holds no readable pattern, so there is nothing to open.',
        'Open the pattern’s SVG again, or another copy of the project.',
      ),
    );
  }
  const document: ProjectDocument = {
    title: readField(titleField, file.title, 'Untitled', 'title', report) as string,
    sources,
    decisions: readDecisions(file.decisions, report),
    lengthUnit: readField(
      unitField,
      file.lengthUnit,
      'mm',
      'lengthUnit',
      report,
    ) as ProjectDocument['lengthUnit'],
  };
  const known = { ...document, format: file.format, version: file.version };
  const unknown = extraPaths(file, known, report.told);
  if (unknown.length > 0) {
    const list = unknown.slice(0, 5).join(', ') + (unknown.length > 5 ? ' …' : '');
    report.issues.push(
      issue(
        'project-field-unknown',
        'note',
        `The file holds ${unknown.length === 1 ? 'an entry' : `${unknown.length} entries`} that this Girthwise does not know: ${list}.`,
        'They are left out when the project is saved again.',
      ),
    );
  }
  return succeed(document, report.issues);
}

function readDecisions(raw: unknown, report: Report): Decisions {
  if (!isRecord(raw)) {
    replaced(report, 'decisions', 'a list of decisions', raw, 'All decisions start from the usual values.');
    return defaultDecisions;
  }
  const sections = Object.entries(decisionFields).map(([section, fields]) => {
    const given = raw[section];
    const defaults = defaultDecisions[section as keyof Decisions] as unknown as Raw;
    if (!isRecord(given)) {
      replaced(report, `decisions.${section}`, 'a section of decisions', given, 'The usual values are used.');
      return [section, defaults];
    }
    const values = Object.entries(fields as Readonly<Record<string, AnyField>>).map(([name, field]) => [
      name,
      readField(field, given[name], defaults[name], `decisions.${section}.${name}`, report),
    ]);
    return [section, Object.fromEntries(values)];
  });
  return Object.fromEntries(sections) as unknown as Decisions;
}

/** The usable part of a field; what is not usable is reported. The result has the field's type by its schema. */
function readField(field: AnyField, raw: unknown, usual: unknown, path: string, report: Report): unknown {
  switch (field.keep) {
    case 'whole': {
      const parsed = v.safeParse(field.schema, raw);
      if (parsed.success) return parsed.output;
      replaced(report, path, field.what, raw, `The usual value (${shown(usual)}) is used.`);
      return usual;
    }
    case 'items': {
      if (!Array.isArray(raw)) {
        replaced(report, path, 'a list', raw, 'It is left empty.');
        return usual;
      }
      return raw.flatMap((item: unknown, i) => {
        const parsed = v.safeParse(field.schema, item);
        if (parsed.success) return [parsed.output];
        replaced(report, `${path}[${i}]`, field.what, item, 'It is left out.');
        return [];
      });
    }
    case 'entries': {
      if (!isRecord(raw)) {
        replaced(report, path, 'a table', raw, 'It is left empty.');
        return usual;
      }
      const kept = Object.entries(raw).flatMap(([key, item]) => {
        const parsed = v.safeParse(field.schema, item);
        if (parsed.success) return [[key, parsed.output] as const];
        replaced(report, `${path}.${key}`, field.what, item, 'It is left out.');
        return [];
      });
      return Object.fromEntries(kept);
    }
  }
}

function replaced(report: Report, path: string, expected: string, got: unknown, then: string): void {
  const found = got === undefined ? 'is missing' : `is ${shown(got)}`;
  report.told.add(path);
  report.issues.push(
    issue(
      'project-value-replaced',
      'repaired',
      `In the file, ${path} ${found} where ${expected} is expected. ${then}`,
      'Check this setting.',
    ),
  );
}

/** A value as a few characters. */
function shown(value: unknown): string {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 40 ? `${text.slice(0, 38)}…` : text;
}

/** Paths of entries in the file that are not in what was read and not told of as replaced. */
function extraPaths(file: unknown, known: unknown, told: ReadonlySet<string>): string[] {
  const found: string[] = [];
  const walk = (a: unknown, b: unknown, path: string) => {
    if (Array.isArray(a) && Array.isArray(b)) {
      // A list that lost items no longer lines up; its losses are told already.
      if (a.length === b.length) a.forEach((item, i) => void walk(item, b[i], `${path}[${i}]`));
      return;
    }
    if (!isRecord(a) || !isRecord(b)) return;
    for (const key of Object.keys(a)) {
      const here = path ? `${path}.${key}` : key;
      if (told.has(here)) continue;
      if (!Object.hasOwn(b, key)) found.push(here);
      else walk(a[key], b[key], here);
    }
  };
  walk(file, known, '');
  return found;
}
