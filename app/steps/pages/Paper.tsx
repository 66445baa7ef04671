import type { PageDecisions, PaperName } from '../../../src/model';
import { formatLength, paperSizes } from '../../../src/units';
import { Choice, LengthField, SelectField, type ShownUnit, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { DecidedLength } from '../decided';
import { Part } from '../Sheet';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

/** Paper narrower than this cannot hold a margin, an overlap and a check square. */
const leastPaper = 100;
const mostPaper = 5000;

const papers: readonly Exclude<PaperName, 'own'>[] = ['A4', 'A3', 'Letter', 'Legal', 'Tabloid'];

function paperLabel(paper: Exclude<PaperName, 'own'>, unit: ShownUnit): string {
  const { width, height } = paperSizes[paper];
  return `${paper}, ${formatLength(width, unit, { bare: true })} × ${formatLength(height, unit)}`;
}

/** What is printed on, and how the panels are laid on it. */
export function Paper() {
  const { pages } = useDecisions();
  const unit = useUnit();
  const set = (label: string, change: Partial<PageDecisions>, live = false) =>
    decidePart('pages', label, change, { key: `pages.${Object.keys(change).join()}`, live });
  return (
    <Part title="Paper">
      <SelectField<PaperName>
        label="Paper size"
        value={pages.paper}
        options={[
          ...papers.map((paper) => ({ value: paper, label: paperLabel(paper, unit) })),
          { value: 'own', label: 'Own size' },
        ]}
        onChange={(paper) => set(`Paper ${paper === 'own' ? 'of own size' : paper}`, { paper })}
      />
      {pages.paper === 'own' ? (
        <div className="pairs">
          <LengthField
            label="Width"
            unit={unit}
            min={leastPaper}
            max={mostPaper}
            value={pages.ownSize.width}
            onCommit={(width, live) => set('Paper width', { ownSize: { ...pages.ownSize, width } }, live)}
            onSettle={endMerge}
          />
          <LengthField
            label="Height"
            unit={unit}
            min={leastPaper}
            max={mostPaper}
            value={pages.ownSize.height}
            onCommit={(height, live) => set('Paper height', { ownSize: { ...pages.ownSize, height } }, live)}
            onSettle={endMerge}
          />
        </div>
      ) : null}
      <Choice
        legend="Panels"
        layout="list"
        value={pages.arrangement}
        options={[
          { value: 'tiled', label: 'as laid out', hint: 'Cut across page borders, taped together again.' },
          {
            value: 'whole',
            label: 'each whole on a page',
            hint: 'Where it fits; larger ones are still cut across.',
          },
        ]}
        onChange={(arrangement) =>
          set(arrangement === 'tiled' ? 'Panels as laid out' : 'Panels whole', { arrangement })
        }
      />
      <Toggle
        label="Half only"
        hint="One side and the middle of a shell with two like sides: enough to try it on in paper."
        checked={pages.half}
        onChange={(half) => set(half ? 'Print one half' : 'Print both halves', { half })}
      />
      <Toggle
        label="Add a map page"
        hint="All pages small, with sizes, legend and cautions."
        checked={pages.mapPage}
        onChange={(mapPage) => set(mapPage ? 'Add the map page' : 'Leave the map page out', { mapPage })}
      />
      <Folded
        title="Margin, overlap, orientation"
        value={`${formatLength(pages.margin, unit)}, ${formatLength(pages.overlap, unit)}, ${pages.orientation}`}
      >
        <div className="pairs">
          <DecidedLength
            label="Margin"
            min={0}
            max={50}
            part="pages"
            name="margin"
            undo="Margin"
            hint="What the printer cannot reach."
          />
          <DecidedLength
            label="Overlap"
            min={0}
            max={50}
            part="pages"
            name="overlap"
            undo="Overlap"
            hint="Strip that two pages share."
          />
        </div>
        <Choice
          legend="Orientation"
          value={pages.orientation}
          options={[
            { value: 'best', label: 'fewest pages' },
            { value: 'portrait', label: 'upright' },
            { value: 'landscape', label: 'sideways' },
          ]}
          onChange={(orientation) => set('Orientation', { orientation })}
        />
      </Folded>
    </Part>
  );
}
