/**
 * The table of wearers as text: comma-separated values after RFC 4180, or with semicolons or tabs as spreadsheets
 * copy them. Only the CSV library is used for the cells; what they mean is decided here.
 */
import Papa from 'papaparse';
import { fail, type Issue, type Outcome, succeed } from '../base';
import type { Wearer } from '../model';
import { type LengthUnit, type Mm, mmPerUnit, parseLength } from '../units';
import { mostWearers } from './tolerance';

type Column = 'name' | 'girth' | 'length' | 'breadth' | 'height';
const columns: readonly Column[] = ['name', 'girth', 'length', 'breadth', 'height'];

/** Words that a heading may hold for a column, the first that is found counts. */
const words: Readonly<Record<Column, RegExp>> = {
  name: /\b(name|wearer|who|role|part)\b/,
  girth: /\b(girth|circumference|round)\b/,
  length: /\blength\b/,
  breadth: /\b(breadth|width)\b/,
  height: /\bheight\b/,
};

interface Heading {
  readonly at: Readonly<Partial<Record<Column, number>>>;
  readonly unitOf: Readonly<Partial<Record<Column, LengthUnit>>>;
}

/**
 * Reads a table. A first row of headings says which column is what, in any order, and may name its unit: "girth (cm)".
 * Without headings the order is name, girth, length, breadth, height. A cell may carry its own unit.
 * @param unit of numbers that stand alone
 * @param idOf makes the id of the nth wearer
 * @returns wearers of all rows that could be read, with an error for each cell that could not be; refused only when
 *   there is no row at all
 */
export function readTroupe(
  text: string,
  unit: LengthUnit,
  idOf: (row: number) => string,
): Outcome<readonly Wearer[]> {
  const parsed = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), {
    skipEmptyLines: 'greedy',
    delimitersToGuess: ['\t', ';', ','],
  });
  const issues: Issue[] = [];
  const broken = parsed.errors.find((e) => e.type === 'Quotes');
  if (broken)
    issues.push(
      trouble(
        'table-quotes-broken',
        `The quotation marks of row ${(broken.row ?? 0) + 1} do not close.`,
        'Put a quotation mark at both ends of the cell, and write one inside it twice.',
      ),
    );
  const rows = parsed.data;
  const heading = headingOf(rows[0] ?? []);
  const body = heading ? rows.slice(1) : rows;
  if (body.length === 0)
    return fail(
      ...issues,
      trouble(
        'table-empty',
        'The table holds no wearer.',
        'One row for each: name, head girth, and length, breadth and height if known.',
      ),
    );
  if (heading && heading.at.girth === undefined)
    return fail(
      ...issues,
      trouble(
        'table-without-girth',
        'No column of the table is called girth.',
        'Head one column “girth” and one “name”.',
      ),
    );
  if (body.length > mostWearers)
    return fail(
      ...issues,
      trouble(
        'table-too-long',
        `The table has ${body.length} rows; at most ${mostWearers} wearers are made at once.`,
        'Take it in parts.',
      ),
    );
  const wearers = body.map((cells, i): Wearer => {
    const cell = (column: Column) =>
      (cells[heading ? (heading.at[column] ?? -1) : columns.indexOf(column)] ?? '').trim();
    const name = cell('name').replace(/^'(?=[=+\-@\t])/, '');
    const measure = (column: Column): Mm | null => {
      const typed = cell(column);
      if (typed === '' || typed === '-' || typed === '–') return null;
      const read = parseLength(typed, heading?.unitOf[column] ?? unit);
      if (read.ok) return read.value;
      issues.push(
        trouble(
          'table-cell-not-read',
          `${name === '' ? `Row ${i + 1}` : name}: the ${column} “${typed}” can’t be read. ${read.reason}`,
          'Write a number with its unit, such as 58 cm or 22 7/8 in, or leave the cell empty.',
        ),
      );
      return null;
    };
    return {
      id: idOf(i),
      name,
      girth: measure('girth'),
      length: measure('length'),
      breadth: measure('breadth'),
      height: measure('height'),
    };
  });
  return succeed(wearers, issues);
}

/** The columns that a row of headings names; null when the row is a wearer already. */
function headingOf(cells: readonly string[]): Heading | null {
  const at: Partial<Record<Column, number>> = {};
  const unitOf: Partial<Record<Column, LengthUnit>> = {};
  cells.forEach((cell, i) => {
    const said = cell.toLowerCase();
    // "Brow to crown height" holds no other column's word; "head length" none of girth's.
    const column = columns.find((c) => at[c] === undefined && words[c].test(said));
    if (!column) return;
    at[column] = i;
    const unit = /[([/,]\s*(mm|cm|m|in|inches|inch|ft)\b/.exec(said)?.[1];
    if (unit) unitOf[column] = unit.startsWith('inch') ? 'in' : (unit as LengthUnit);
  });
  // A wearer called "Name" has no second heading beside it.
  return Object.keys(at).length >= 2 ? { at, unitOf } : null;
}

/** The table with its headings, lengths in the unit; the same wearers give the same text. */
export function writeTroupe(wearers: readonly Wearer[], unit: 'mm' | 'in'): string {
  const length = (value: Mm | null) =>
    value === null ? '' : String(Number((value / mmPerUnit[unit]).toFixed(unit === 'mm' ? 2 : 4)));
  const head = columns.map((c) => (c === 'name' ? c : `${c} (${unit})`));
  const rows = wearers.map((w) => [
    // A name that a spreadsheet would take for a formula is kept a name.
    /^[=+\-@\t]/.test(w.name) ? `'${w.name}` : w.name,
    length(w.girth),
    length(w.length),
    length(w.breadth),
    length(w.height),
  ]);
  return `${Papa.unparse([head, ...rows], { newline: '\r\n' })}\r\n`;
}

const trouble = (code: string, message: string, remedy: string): Issue => ({
  code,
  severity: 'error',
  stage: 'project',
  message,
  remedy,
  place: {},
});
