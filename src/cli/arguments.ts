/**
 * Reads a command line: a verb, files, `--option value` or `--option=value`. Strict: what is not known, given twice
 * or without its value is an error, never skipped.
 */

export interface OptionSpec {
  /** How its value is written in the help, e.g. `58cm`; empty for a plain switch. */
  readonly value: string;
  readonly help: string;
}

export interface VerbSpec {
  readonly verb: string;
  readonly summary: string;
  readonly options: Readonly<Record<string, OptionSpec>>;
}

export interface ParsedLine {
  readonly files: readonly string[];
  /** Value by option name without dashes; a switch has the empty text. */
  readonly options: ReadonlyMap<string, string>;
}

/** Something wrong with the command line itself. */
export class UsageError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'UsageError';
  }
}

export function parseLine(args: readonly string[], spec: VerbSpec): ParsedLine {
  const files: string[] = [];
  const options = new Map<string, string>();
  let plain = false;
  for (let i = 0; i < args.length; i++) {
    const arg = args[i]!;
    if (plain || !arg.startsWith('-') || arg === '-') {
      files.push(arg);
      continue;
    }
    if (arg === '--') {
      plain = true;
      continue;
    }
    const equals = arg.indexOf('=');
    const name = (equals < 0 ? arg : arg.slice(0, equals)).replace(/^--?/, '');
    const option = arg.startsWith('--') && Object.hasOwn(spec.options, name) ? spec.options[name] : undefined;
    if (!option) {
      const near = nearest(name, Object.keys(spec.options));
      throw new UsageError(`${spec.verb} knows no option ${arg}.${near ? ` Do you mean --${near}?` : ''}`);
    }
    if (options.has(name)) throw new UsageError(`--${name} is given twice.`);
    if (option.value === '') {
      if (equals >= 0) throw new UsageError(`--${name} takes no value.`);
      options.set(name, '');
      continue;
    }
    const value = equals >= 0 ? arg.slice(equals + 1) : args[++i];
    if (value === undefined || value === '' || (equals < 0 && value.startsWith('--'))) {
      throw new UsageError(`--${name} needs a value, e.g. --${name} ${option.value}.`);
    }
    options.set(name, value);
  }
  return { files, options };
}

/** The known name that differs by the fewest letters, when it is near enough to be a slip. */
function nearest(name: string, known: readonly string[]): string | null {
  const scored = known.map((k) => ({ k, d: editDistance(name, k) })).sort((a, b) => a.d - b.d);
  const best = scored[0];
  return best && best.d <= Math.max(1, Math.floor(best.k.length / 3)) ? best.k : null;
}

/** Levenshtein's distance: insertions, deletions and changes of single letters. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
