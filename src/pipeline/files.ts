/** The files that a finished run makes. The PDF writer is large, so it is loaded when the first file is written. */
import { fail, type Issue, type Outcome, succeed, type Work } from '../base';
import { makePanels } from '../foam';
import { layCheckPage } from '../layout';
import { type LetteringFont, markPanels } from '../marks';
import type { FoamResult, MarkedPanels, ProjectDocument, Results } from '../model';
import { smoothPanels } from '../panels';
import { cutOf, foamFor } from './cut';
import { withExtras } from './extras';
import { pairPanels } from './pairPanels';

export const refused = (message: string, remedy: string): Issue => ({
  code: 'nothing-to-write',
  severity: 'error',
  stage: 'output',
  message,
  remedy,
  place: {},
});

/** Why nothing may be made from these results yet, or null. */
export function obstacle(results: Results): Issue | null {
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
      lettering: document.decisions.cutting.lettering,
      leadIn: document.decisions.cutting.leadIn,
    }),
  );
}

/** All panels as one DXF for a cutter, with the kerf and the lettering that the cutter's decisions name. */
export async function makePanelsDxf(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions'>,
  lettering: () => Promise<LetteringFont>,
): Promise<Outcome<string>> {
  const marked = await cutPanels(results, document, lettering);
  if (!marked.ok) return marked;
  const { writePanelsDxf } = await import('../output');
  return succeed(writePanelsDxf(marked.value, cutMeta(document)));
}

export const cutMeta = ({ title, decisions }: Pick<ProjectDocument, 'title' | 'decisions'>) => ({
  title,
  tracedFace: decisions.foam.traced,
  lettering: decisions.cutting.lettering,
  leadIn: decisions.cutting.leadIn,
});

/** The marked panels as a cutter gets them: with the kerf in the outlines, or made again without it. */
export async function cutPanels(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions'>,
  lettering: () => Promise<LetteringFont>,
): Promise<Outcome<MarkedPanels>> {
  const made = cutFoam(results, document);
  if (!made.ok) return made;
  const { foam, listed } = made.value;
  const { marked, recut } = results;
  if (foam === results.foam && marked) return succeed(marked);
  return succeed(
    onlyListed(markPanels(foam, recut!.seams, document.decisions.marks, await lettering()), listed),
  );
}

/** Without the panels that the template of another serves for. */
export function onlyListed(marked: MarkedPanels, { panels }: FoamResult): MarkedPanels {
  const ids = new Set(panels.map((p) => p.id));
  return { ...marked, panels: marked.panels.filter((m) => ids.has(m.panel.id)) };
}

/** The panels of a cutter's files before they are marked: all, and those that have a template. */
export function cutFoam(
  results: Results,
  { decisions }: Pick<ProjectDocument, 'decisions'>,
): Outcome<{ readonly foam: FoamResult; readonly listed: FoamResult }> {
  const why = obstacle(results);
  if (why) return fail(why);
  const { marked, pattern, recut, fit } = results;
  if (!marked || marked.panels.length === 0 || !pattern || !recut || !fit || !results.foam) {
    return fail(
      ...results.issues.filter((i) => i.severity === 'error'),
      refused('There are no panels to write.', 'Look at the findings of the earlier steps first.'),
    );
  }
  const { foam, marks, cutting } = decisions;
  if (cutting.kerf === 'in' || foam.kerf === 0) {
    const drawn = new Set(marked.panels.map((m) => m.panel.id));
    const panels = results.foam.panels.filter((p) => drawn.has(p.id));
    return succeed({ foam: results.foam, listed: { ...results.foam, panels } });
  }
  const { seams } = recut;
  const cut = cutOf(recut, fit, decisions.shell);
  const bare = makePanels(
    cut.pattern,
    seams,
    cut.scale,
    { ...foamFor(foam, recut), kerf: 0 },
    marks,
    undefined,
    cut.bends,
    cut.surface,
  );
  const shells = decisions.panels.smooth ? smoothPanels(bare, seams).foam : bare;
  const foamed = withExtras(
    shells,
    { pattern, recut, cut, fit },
    { ...decisions, foam: { ...foam, kerf: 0 } },
  );
  return succeed(pairPanels(foamed, seams, decisions.panels.pairWithin));
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

/** The page that shows what the person's printer does; it needs no pattern. */
export async function makeCheckPdf(
  { title, decisions, lengthUnit }: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const plan = layCheckPage(decisions.pages, await lettering(), lengthUnit);
  if (!plan.ok) return plan;
  const { writePagesPdf } = await import('../output');
  return succeed(await writePagesPdf(plan.value, { title: `${title}: printer check` }, work));
}
