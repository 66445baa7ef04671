/** Faults of the program as findings. */
import type { Issue, StageName } from '../base';

const stageWords: Readonly<Record<StageName, string>> = {
  drawing: 'Reading the drawing',
  reading: 'Finding pieces and folds',
  seams: 'Pairing edges',
  shell: 'Folding up',
  fit: 'Sizing',
  panels: 'Cutting and joining panels',
  foam: 'Allowing for the foam',
  marks: 'Marking panels',
  sheets: 'Laying panels on sheets',
  layout: 'Laying out pages',
  build: 'Planning the build',
  output: 'Writing the file',
  project: 'The work',
};

/** What an error says of itself. */
export const faultWords = (error: unknown): string =>
  error instanceof Error ? `${error.name}: ${error.message}` : String(error);

/** A fault of the program, as a finding. */
export function stopped(stage: StageName, error: unknown): Issue {
  return {
    code: 'stage-stopped',
    severity: 'error',
    stage,
    message: `${stageWords[stage]} stopped on a fault of the program (${faultWords(error)}).`,
    remedy: 'Undo the last change to go on; the project file helps whoever looks into the fault.',
    place: {},
  };
}
