/** The bend test as a page at true scale: it needs a foam, not a finished pattern. */
import { fail, type Outcome, succeed, type Work } from '../base';
import { bendTestMarks, bendTestPanels, bendTestSteps } from '../extras';
import { layPages } from '../layout';
import { type LetteringFont, markPanels } from '../marks';
import { cautions, type ProjectDocument } from '../model';
import { formatLength } from '../units';

/** @throws Cancelled through `work` */
export async function makeBendTestPdf(
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const { foam, pages, marks } = document.decisions;
  const font = await lettering();
  const made = { panels: bendTestPanels(foam), rows: [], unsetBends: [], issues: [] };
  const noSeams = { seams: [], runs: [], open: [], issues: [] };
  const marked = markPanels(made, noSeams, bendTestMarks(marks), font);
  const title = `Bend test, foam of ${formatLength(foam.thickness, document.lengthUnit)}`;
  const plan = await layPages(
    marked,
    { ...pages, arrangement: 'whole', mapPage: true, half: false },
    font,
    {
      title,
      figures: bendTestSteps,
      cautions: cautions.filter((c) => ['blade', 'heat', 'costume'].includes(c.topic)).map((c) => c.text),
      tracedFace: 'outside',
      lengthUnit: document.lengthUnit,
    },
    work,
  );
  if (plan.pages.length === 0) return fail(...plan.issues);
  const { writePagesPdf } = await import('../output');
  return succeed(await writePagesPdf(plan, { title }, work), plan.issues);
}
