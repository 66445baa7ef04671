/** The try-on band of a finished run, laid on pages and as a file. */
import { fail, type Issue, type Outcome, succeed, type Work } from '../base';
import { tryOnBand } from '../fit';
import { clearOf, layPages } from '../layout';
import {
  cautions,
  type LetterShapes,
  type PageDecisions,
  type PagePlan,
  type ProjectDocument,
  type Results,
} from '../model';
import { type Mm, paperSizes } from '../units';

const refused = (message: string, remedy: string): Issue => ({
  code: 'nothing-to-write',
  severity: 'error',
  stage: 'output',
  message,
  remedy,
  place: {},
});

/** Strips stay this far from the frame of the page on both ends together: room for the layout's own rim. */
const endRoom: Mm = 12;

/** The longest strip that one page can show, mm of the print. */
function longestStrip(pages: PageDecisions): Mm {
  const { paper, ownSize, orientation, measured } = pages;
  const { width, height } = paper === 'own' ? ownSize : paperSizes[paper];
  const [short, long] = [Math.min(width, height), Math.max(width, height)];
  const clear = clearOf(pages, orientation !== 'portrait');
  const room =
    orientation === 'portrait' ? short - clear.left - clear.right : long - clear.left - clear.right;
  // What a printer shrinks is laid out larger, so that a page shows less of it.
  const grown = measured ? Math.min(1, measured.x / 100, measured.y / 100) : 1;
  return room * grown - endRoom;
}

/**
 * Lays the band on pages of the document's own settings, without a map page.
 * @throws Cancelled through `work`
 */
export async function layBand(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  font: LetterShapes,
  work: Work,
): Promise<Outcome<PagePlan>> {
  const { shell, fit } = results;
  if (results.drawing?.size.from.kind === 'none')
    return fail(
      refused(
        'The drawing does not say how large it is, so nothing true to scale can be made.',
        'Answer the question about its size in the Pattern step.',
      ),
    );
  if (!shell || !fit?.shell)
    return fail(
      refused(
        'There is no sound shell to measure a try-on band on.',
        'Pair the open edges until the pattern folds up, or say that the shell may be taken as it is.',
      ),
    );
  const { pages } = document.decisions;
  const band = tryOnBand(shell, fit.shell, longestStrip(pages), document.lengthUnit, font);
  if (!band.ok) return band;
  const plan = await layPages(
    band.value,
    { ...pages, arrangement: 'whole', mapPage: false, half: false },
    font,
    {
      title: `${document.title}: try-on band. Costume, not protective equipment.`,
      figures: [],
      cautions: cautions.filter((c) => c.topic === 'costume').map((c) => c.text),
      tracedFace: 'outside',
      lengthUnit: document.lengthUnit,
    },
    work,
  );
  const issues = [...band.issues, ...plan.issues];
  if (plan.pages.length === 0) return fail(...issues);
  return succeed(plan, issues);
}

/** The band as a PDF at true scale. @throws Cancelled through `work` */
export async function makeBandPdf(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetterShapes>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const plan = await layBand(results, document, await lettering(), work);
  if (!plan.ok) return plan;
  const { writePagesPdf } = await import('../output');
  return succeed(
    await writePagesPdf(plan.value, { title: `${document.title}: try-on band` }, work),
    plan.issues,
  );
}
