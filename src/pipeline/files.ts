/** The files that a finished run makes. The PDF writer is large, so it is loaded when the first file is written. */
import { fail, type Issue, type Outcome, succeed, type Work } from '../base';
import type { ProjectDocument, Results } from '../model';

const refused = (message: string, remedy: string): Issue => ({
  code: 'nothing-to-write',
  severity: 'error',
  stage: 'output',
  message,
  remedy,
  place: {},
});

/** Why nothing may be made from these results yet, or null. */
function obstacle(results: Results): Issue | null {
  if (results.drawing?.size.from.kind === 'none') {
    return {
      code: 'size-not-known',
      severity: 'error',
      stage: 'output',
      message: 'The drawing does not say how large it is, so nothing true to scale can be made.',
      remedy: 'Answer the question about its size in the Pattern step.',
      place: {},
    };
  }
  return null;
}

/** All pages as one PDF at true scale. */
export async function makePagesPdf(
  results: Results,
  document: Pick<ProjectDocument, 'title'>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const why = obstacle(results);
  if (why) return fail(why);
  if (!results.pages || results.pages.pages.length === 0) {
    return fail(
      ...results.issues.filter((i) => i.severity === 'error'),
      refused('There are no pages to print.', 'Look at the findings of the earlier steps first.'),
    );
  }
  const { writePagesPdf } = await import('../output');
  return succeed(await writePagesPdf(results.pages, { title: document.title }, work));
}

/** All panels as one SVG in millimetres. */
export async function makePanelsSvg(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions'>,
): Promise<Outcome<string>> {
  const why = obstacle(results);
  if (why) return fail(why);
  if (!results.marked || results.marked.panels.length === 0) {
    return fail(
      ...results.issues.filter((i) => i.severity === 'error'),
      refused('There are no panels to write.', 'Look at the findings of the earlier steps first.'),
    );
  }
  const { writePanelsSvg } = await import('../output');
  return succeed(
    writePanelsSvg(results.marked, {
      title: document.title,
      tracedFace: document.decisions.foam.traced,
    }),
  );
}

/** Pattern, seams and folded shell as one FOLD file, at the drawing's size. */
export async function makeFoldFile(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions'>,
): Promise<Outcome<string>> {
  const why = obstacle(results);
  if (why) return fail(why);
  const { pattern, seams, shell } = results;
  if (!pattern || !seams || pattern.pieces.length === 0) {
    return fail(
      ...results.issues.filter((i) => i.severity === 'error'),
      refused('There is no pattern to write.', 'Look at the findings of the earlier steps first.'),
    );
  }
  const { makeFold } = await import('../output');
  const { trustDoubtful } = document.decisions.shell;
  return succeed(makeFold(pattern, seams, shell, { title: document.title, trustDoubtful }));
}
