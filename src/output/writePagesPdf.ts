import type { Work } from '../base';
import type { PagePlan } from '../model';
import { pageContent, pointsPerMm } from './pageContent';
import { writePdf } from './pdfFile';

/**
 * The pages of a plan as a PDF file: vector, 1 mm = 72/25.4 units, lettering as filled outlines, print scaling off, page
 * names as page labels. The same plan gives the same bytes.
 * @throws Cancelled through `work`.
 */
export async function writePagesPdf(
  plan: PagePlan,
  meta: { readonly title: string },
  work: Work,
): Promise<Uint8Array> {
  const round = (points: number) => Math.round(points * 10000) / 10000;
  const pages = plan.pages.map((page) => ({
    label: page.name,
    width: round(plan.width * pointsPerMm),
    height: round(plan.height * pointsPerMm),
    get content() {
      return pageContent(page);
    },
  }));
  return writePdf(pages, meta.title, work);
}
