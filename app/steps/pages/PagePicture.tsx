import { memo, useMemo } from 'react';
import { lineLooks, type Page, type PagePlan } from '../../../src/model';
import { letteringInk, strokesByKind } from './pageInk';

interface PagePictureProps {
  readonly plan: PagePlan;
  readonly page: Page;
  /** Thumbnails leave the lettering out and thicken the lines. */
  readonly detail: 'thumbnail' | 'full';
}

/** One page as it will be printed: same lines, same dashes. Always on white, since paper is. */
export const PagePicture = memo(function PagePicture({ plan, page, detail }: PagePictureProps) {
  const strokes = useMemo(() => strokesByKind(page), [page]);
  const letters = useMemo(() => (detail === 'full' ? letteringInk(page) : ''), [page, detail]);
  const thicken = detail === 'full' ? 1 : 3;
  return (
    <svg className="page-picture" viewBox={`0 0 ${plan.width} ${plan.height}`} aria-hidden="true">
      <rect width={plan.width} height={plan.height} fill="#fff" />
      <g transform={`matrix(1 0 0 -1 0 ${plan.height})`} fill="none" stroke="#111">
        {strokes.map((ink) => {
          const look = lineLooks[ink.kind];
          return (
            <path
              key={ink.kind}
              d={ink.path}
              strokeWidth={look.width * thicken}
              strokeDasharray={look.dash.length > 0 ? look.dash.join(' ') : undefined}
            />
          );
        })}
        {letters ? <path d={letters} fill="#111" stroke="none" /> : null}
      </g>
    </svg>
  );
});
