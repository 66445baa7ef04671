import { Toggle } from '../../ui/fields';
import { CautionNote, Figures } from '../../ui/parts';
import { NextStep } from '../NextStep';
import { counted } from '../names';
import { Part, Sheet } from '../Sheet';
import { decidePart, useDecisions, useResults } from '../useWork';
import { LineGroups } from './LineGroups';
import { RareReading } from './RareReading';
import { readingFigures } from './readingFigures';
import { SelectedLines } from './SelectedLines';
import { SizeQuestion } from './SizeQuestion';
import { Tabs } from './Tabs';
import { UnreadLines } from './UnreadLines';

/** What the drawing says: its real size, which lines are what, tabs, and what was understood. */
export function PatternStep() {
  const { pattern, drawing } = useResults();
  const { reading } = useDecisions();
  return (
    <Sheet
      title="Pattern"
      about="Check that the drawing was understood: its real size, and what each kind of line is."
      actions={<NextStep after="pattern" />}
    >
      {drawing ? <SizeQuestion drawing={drawing} /> : null}
      {pattern ? (
        <>
          <Figures label="What was read" items={readingFigures(pattern)} />
          <UnreadLines pattern={pattern} />
          {drawing ? <SelectedLines drawing={drawing} pattern={pattern} /> : null}
          <Part title="Kinds of line">
            <LineGroups groups={pattern.groups} />
          </Part>
          <Part title="Side">
            <Toggle
              label="The pieces are drawn as seen from inside"
              hint="They are mirrored on reading, so that everything after is as seen from outside."
              checked={reading.drawnFromInside}
              onChange={(drawnFromInside) =>
                decidePart('reading', drawnFromInside ? 'Drawn from inside' : 'Drawn from outside', {
                  drawnFromInside,
                })
              }
            />
          </Part>
          <Tabs pattern={pattern} />
          <RareReading />
          <CautionNote topics={['costume']} />
        </>
      ) : (
        <p className="waiting">Reading the drawing …</p>
      )}
      <p className="unseen" aria-live="polite">
        {pattern ? `${counted(pattern.pieces.length, 'piece')} read` : ''}
      </p>
    </Sheet>
  );
}
