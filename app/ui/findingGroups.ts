/** Findings as the drawer lists them: filtered, grouped by stage in the order of the work, heaviest first. Pure. */
import type { Issue, Severity, StageName } from '../../src/base';

export const stageWords: Readonly<Record<StageName, string>> = {
  drawing: 'The drawing file',
  reading: 'Reading the pattern',
  seams: 'Seams',
  shell: 'Folding up',
  fit: 'Size',
  panels: 'Panels',
  foam: 'Foam',
  marks: 'Marks',
  sheets: 'Sheets',
  layout: 'Pages',
  build: 'Build',
  output: 'Printing',
  project: 'Project file',
};

const stageOrder = Object.keys(stageWords) as StageName[];
const severityOrder: readonly Severity[] = ['error', 'warning', 'repaired', 'note'];

export interface FindingGroup {
  readonly stage: StageName;
  readonly issues: readonly Issue[];
}

export function groupFindings(issues: readonly Issue[], only: StageName | 'all'): FindingGroup[] {
  return stageOrder
    .filter((stage) => only === 'all' || stage === only)
    .map((stage) => ({
      stage,
      issues: issues
        .filter((issue) => issue.stage === stage)
        .sort((a, b) => severityOrder.indexOf(a.severity) - severityOrder.indexOf(b.severity)),
    }))
    .filter((group) => group.issues.length > 0);
}

/** "2 will fail, 3 to look at, 4 notes"; "nothing found" when there is nothing. */
export function summariseFindings(issues: readonly Issue[]): string {
  const of = (severity: Severity) => issues.filter((issue) => issue.severity === severity).length;
  const part = (n: number, words: string) => (n > 0 ? [`${n} ${words}`] : []);
  const repaired = of('repaired');
  const notes = of('note');
  const parts = [
    ...part(of('error'), 'will fail'),
    ...part(of('warning'), 'to look at'),
    ...part(repaired, 'repaired'),
    ...part(notes, notes === 1 ? 'note' : 'notes'),
  ];
  return parts.length > 0 ? parts.join(', ') : 'nothing found';
}
