import type { MapContext } from '../layout';
import {
  blocksSight,
  cautions,
  type Fit,
  type FoamResult,
  type ProjectDocument,
  type ShellPicture,
} from '../model';
import { formatLength } from '../units';

/** Cautions that belong beside the pages: what is done with them next. */
const onTheMap: readonly string[] = ['costume', 'blade', 'adhesive', 'dust', 'heat'];

const standsForWords = { outside: 'outside', middle: 'middle', inside: 'inside' } as const;
const preparationWords = {
  bevel: 'bevelled',
  square: 'square',
  flush: 'square, flush',
  lapped: 'lapped',
  rules: 'flush or bevelled by their bend',
} as const;

/** A ratio as percent with one decimal: 0.9637 gives "96.4 %". */
export function formatPercent(ratio: number): string {
  return `${Math.round(ratio * 1000) / 10} %`;
}

/**
 * What the map page says about the job: the figures that someone at the cutting table asks for.
 * @param printed how many panels are on the pages; fewer than there are when only one side is printed
 * @param shell picture of the folded shell, null where there is none
 */
export function mapContextOf(
  document: Pick<ProjectDocument, 'title' | 'lengthUnit' | 'decisions'>,
  fit: Fit,
  foam: FoamResult,
  printed: number,
  shell: ShellPicture | null,
): MapContext {
  const { lengthUnit, title } = document;
  const { foam: choice, fit: ask } = document.decisions;
  const length = (mm: number) => formatLength(mm, lengthUnit);
  const figures: { label: string; value: string }[] = [];
  const add = (label: string, value: string) => figures.push({ label, value });
  add('Scale', formatPercent(fit.scale));
  if (ask.how === 'head' && ask.head !== null) {
    add('Head girth', length(ask.head));
    add('Ease', `${length(ask.padding + ask.clearance)} (padding ${length(ask.padding)})`);
  }
  if (fit.insideGirth !== null) add('Inside girth', length(fit.insideGirth));
  if (fit.outsideGirth !== null) add('Outside girth', length(fit.outsideGirth));
  add('Foam', length(choice.thickness));
  add('The paper is', `the ${standsForWords[choice.standsFor]} of the foam`);
  add('Seams cut', preparationWords[choice.preparation]);
  if (choice.kerf > 0) add('Kerf', length(choice.kerf));
  const count = foam.panels.reduce((n, p) => n + p.quantity, 0);
  add('Panels to cut', String(count));
  if (printed < foam.panels.length) add('On these pages', `${printed} of ${foam.panels.length} templates`);
  add('Drawn face', choice.traced === 'outside' ? 'outside' : 'inside (panels mirrored)');
  return {
    title,
    figures,
    cautions: cautions
      .filter(({ topic }) => onTheMap.includes(topic) || (topic === 'sight' && blocksSight(foam)))
      .map((c) => c.text),
    tracedFace: choice.traced,
    lengthUnit,
    ...(shell ? { shell } : {}),
  };
}
