/** Reads the files of a command line. */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Issue } from '../base';
import type { PatternSource, ProjectDocument } from '../model';
import { openProject } from '../project';
import { type ParsedLine, UsageError } from './arguments';
import type { CommandIo } from './io';

/** A reason to stop that is not the command line's fault. */
export class StopError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'StopError';
  }
}

export async function textOf(path: string): Promise<string> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const why =
      code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'it is a folder' : String(code);
    throw new StopError(`${path} can’t be read: ${why}.`);
  }
  // XML may be UTF-16 when it begins with a byte order mark (XML 1.0, appendix F).
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (!utf16) return new TextDecoder('utf-8').decode(bytes);
  return new TextDecoder(bytes[0] === 0xff ? 'utf-16le' : 'utf-16be').decode(bytes);
}

export interface Given {
  readonly sources: readonly PatternSource[];
  /** The saved project, when one is given. */
  readonly project: ProjectDocument | null;
  readonly issues: readonly Issue[];
}

export async function readGiven(line: ParsedLine, verb: string, io: CommandIo): Promise<Given> {
  const projectFile = line.options.get('project');
  if (line.files.length === 0 && projectFile === undefined) {
    throw new UsageError(`${verb} needs a pattern: an SVG or FOLD file, or --project FILE.`);
  }
  let project: ProjectDocument | null = null;
  let issues: readonly Issue[] = [];
  if (projectFile !== undefined) {
    const opened = openProject(await textOf(projectFile));
    if (!opened.ok) {
      for (const i of opened.issues) io.error(issueLine(i));
      throw new StopError(`${projectFile} can’t be opened.`);
    }
    project = opened.value;
    issues = opened.issues;
  }
  const files = await Promise.all(
    line.files.map(async (path) => ({ name: basename(path), svg: await textOf(path) })),
  );
  return { sources: files.length > 0 ? files : (project?.sources ?? []), project, issues };
}

/** One finding as one line: severity, where, what, what to do. */
export function issueLine(issue: Issue): string {
  const { at, source } = issue.place;
  const places = [
    ...(source ? [`${source.file ? `${source.file}:` : ''}${source.line}:${source.column}`] : []),
    ...(at ? [`at ${Math.round(at.x * 10) / 10}, ${Math.round(-at.y * 10) / 10} mm`] : []),
  ];
  const where = places.length > 0 ? ` (${places.join(', ')})` : '';
  return `${issue.severity}: ${issue.message}${where}${issue.remedy ? ` ${issue.remedy}` : ''}\n`;
}
