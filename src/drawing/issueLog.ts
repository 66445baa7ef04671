/**
 * Collects the findings of one file. Findings of one kind that come in numbers are counted and told once; findings
 * with their own words are told one by one up to a bound, and the rest is counted.
 */
import type { Issue, Severity } from '../base';
import { type CountedKind, countedKinds, wordsFor } from './countedNotes';
import type { SourceLines } from './sourceLines';

/** How many findings of one code are told in full before the rest is only counted. */
const toldInFull = 20;

/** Ends the reading of a file: the reason is an issue, made where it was found. Never leaves this folder. */
export class ReadingStopped extends Error {
  readonly issue: Issue;
  constructor(issue: Issue) {
    super(issue.message);
    this.name = 'ReadingStopped';
    this.issue = issue;
  }
}

export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly remedy: string;
}

export class IssueLog {
  readonly #file: string;
  readonly #lines: SourceLines;
  readonly #told: Issue[] = [];
  readonly #timesOf = new Map<string, number>();
  readonly #counted = new Map<CountedKind, { count: number; offset: number; examples: Set<string> }>();

  constructor(file: string, lines: SourceLines) {
    this.#file = file;
    this.#lines = lines;
  }

  source(offset: number): { file: string; line: number; column: number } {
    const { line, column } = this.#lines.at(offset);
    return { file: this.#file, line, column };
  }

  /** Tells one finding; `offset` is its place in the text, none for findings about the whole file. */
  tell(finding: Finding, offset?: number): void {
    const times = (this.#timesOf.get(finding.code) ?? 0) + 1;
    this.#timesOf.set(finding.code, times);
    if (times <= toldInFull) this.#told.push(this.issue(finding, offset));
  }

  /** Counts one more of a kind; `example` may name what it was, e.g. the value that was not understood. */
  count(kind: CountedKind, offset: number, example?: string): void {
    let entry = this.#counted.get(kind);
    if (!entry) {
      entry = { count: 0, offset, examples: new Set() };
      this.#counted.set(kind, entry);
    }
    entry.count++;
    if (example !== undefined && entry.examples.size < 3) entry.examples.add(example);
  }

  /** @throws ReadingStopped always. */
  stop(finding: Omit<Finding, 'severity'>, offset?: number): never {
    throw new ReadingStopped(this.issue({ ...finding, severity: 'error' }, offset));
  }

  issue(finding: Finding, offset?: number): Issue {
    return {
      code: finding.code,
      severity: finding.severity,
      stage: 'drawing',
      message: finding.message,
      remedy: finding.remedy,
      place: offset === undefined ? {} : { source: this.source(offset) },
    };
  }

  /** All findings: the ones told, in order, then the counted ones in the order of their table. */
  finish(): Issue[] {
    const out = [...this.#told];
    for (const [code, times] of this.#timesOf) {
      if (times <= toldInFull) continue;
      const last = out.map((i) => i.code).lastIndexOf(code);
      const { severity } = out[last]!;
      const rest = times - toldInFull;
      out.splice(last + 1, 0, {
        code,
        severity,
        stage: 'drawing',
        message: `There are ${rest} more of the same kind (${times} in all).`,
        remedy: 'Mend the first ones and read the file again.',
        place: {},
      });
    }
    for (const kind of countedKinds) {
      const entry = this.#counted.get(kind);
      if (entry) {
        out.push(this.issue(wordsFor(kind, entry.count, [...entry.examples]), entry.offset));
      }
    }
    return out;
  }
}
