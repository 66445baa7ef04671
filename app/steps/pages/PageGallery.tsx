import { ChevronLeft, ChevronRight } from 'lucide-react';
import { useState } from 'react';
import { isMapPage, type Page, type PagePlan } from '../../../src/model';
import { Dialog } from '../../ui/parts';
import { PagePicture } from './PagePicture';

/** "Page B3", "Map page", "Map page 2". */
const pageTitle = (page: Page): string =>
  isMapPage(page) ? page.name.replace('map', 'Map page') : `Page ${page.name}`;

/** All pages to look at before printing; one opens large. */
export function PageGallery({ plan }: { readonly plan: PagePlan }) {
  const [open, setOpen] = useState<number | null>(null);
  return (
    <>
      <ul className="gallery">
        {plan.pages.map((page, i) => (
          <li key={page.name}>
            <button
              type="button"
              className="thumb"
              aria-label={`Look at ${pageTitle(page)}`}
              onClick={() => setOpen(i)}
            >
              <PagePicture plan={plan} page={page} detail="thumbnail" />
              <span>{page.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {open !== null && plan.pages[open] ? (
        <PageDialog plan={plan} index={open} onTurn={setOpen} onClose={() => setOpen(null)} />
      ) : null}
    </>
  );
}

interface PageDialogProps {
  readonly plan: PagePlan;
  readonly index: number;
  readonly onTurn: (index: number) => void;
  readonly onClose: () => void;
}

function PageDialog({ plan, index, onTurn, onClose }: PageDialogProps) {
  const page = plan.pages[index];
  if (!page) return null;
  const { left, right, above, below } = page.neighbours;
  const beside = [
    left && `left ${left}`,
    right && `right ${right}`,
    above && `above ${above}`,
    below && `below ${below}`,
  ].filter(Boolean);
  return (
    <Dialog
      title={`${pageTitle(page)} (${index + 1} of ${plan.pages.length})`}
      wide
      onClose={onClose}
      actions={
        <>
          <button type="button" disabled={index === 0} onClick={() => onTurn(index - 1)}>
            <ChevronLeft aria-hidden="true" size={16} /> Page before
          </button>
          <button type="button" disabled={index === plan.pages.length - 1} onClick={() => onTurn(index + 1)}>
            Next page <ChevronRight aria-hidden="true" size={16} />
          </button>
        </>
      }
    >
      <p className="hint" aria-live="polite">
        {beside.length > 0 ? `Beside it: ${beside.join(', ')}.` : 'No neighbours.'}
      </p>
      <div className="page-large">
        <PagePicture plan={plan} page={page} detail="full" />
      </div>
    </Dialog>
  );
}
