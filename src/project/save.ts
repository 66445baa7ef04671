import type { ProjectDocument } from '../model';
import { projectFormat, projectVersion } from './version';

/**
 * The text of a project file: JSON, keys in alphabetical order, two spaces, a newline at the end. The same document
 * gives the same text. Nothing computed is saved.
 */
export function saveProject(document: ProjectDocument): string {
  return `${JSON.stringify(sorted({ format: projectFormat, version: projectVersion, ...document }), null, 2)}\n`;
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const keys = Object.keys(value).sort();
  return Object.fromEntries(keys.map((k) => [k, sorted((value as Record<string, unknown>)[k])]));
}
