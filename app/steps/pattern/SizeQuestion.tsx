import { useState } from 'react';
import type { Drawing, ReadingDecisions } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { setTool, useSession } from '../../document';
import { Choice, LengthField, NumberField } from '../../ui/fields';
import { Part } from '../Sheet';
import { decidePart, useDecisions, useUnit } from '../useWork';

type Answer = '96' | '90' | '72' | 'own' | 'known';

const usualPerInch: readonly number[] = [96, 90, 72];

function answerOf(size: ReadingDecisions['size']): Answer | '' {
  switch (size.kind) {
    case 'ask':
      return '';
    case 'knownLength':
      return 'known';
    case 'perInch':
      return usualPerInch.includes(size.value) ? (String(size.value) as Answer) : 'own';
  }
}

/** Says how the drawing's real size is known; asks when the file does not tell. */
export function SizeQuestion({ drawing }: { readonly drawing: Drawing }) {
  const unit = useUnit();
  const { reading } = useDecisions();
  const selection = useSession((s) => s.selection);
  // Picked but not complete: "own" without a number, "known" without a line and length.
  const [picked, setPicked] = useState<Answer | ''>('');
  const { width, height, from } = drawing.size;
  const extent = `${formatLength(width, unit)} × ${formatLength(height, unit)}`;

  if (from.kind === 'physical') {
    return (
      <Part title="Real size">
        <p>
          {extent}, <span className="soft">as the file says.</span>
        </p>
      </Part>
    );
  }

  const answer = picked || answerOf(reading.size);
  const choose = (value: Answer) => {
    if (value === 'own' || value === 'known') {
      setPicked(value);
      if (value === 'known') setTool('select');
      return;
    }
    setPicked('');
    decidePart('reading', `${value} units per inch`, { size: { kind: 'perInch', value: Number(value) } });
  };
  const known = reading.size.kind === 'knownLength' ? reading.size : null;
  const line = drawing.lines.find((l) => selection.includes(l.id)) ?? null;
  const target = line?.id ?? known?.line ?? null;

  return (
    <Part title="Real size">
      {from.kind === 'none' ? (
        <p className="ask" role="status">
          <strong>The file gives no real size.</strong> Say how it was drawn; until then it is shown at 96
          units per inch, {extent}, and nothing should be cut from it.
        </p>
      ) : (
        <p>
          {extent},{' '}
          <span className="soft">
            {from.kind === 'perInch'
              ? `at ${from.value} units per inch, as you said.`
              : `from the length you gave (drawing × ${Math.round(from.factor * 10000) / 10000}).`}
          </span>
        </p>
      )}
      <Choice<Answer | ''>
        legend="The drawing was made at"
        layout="list"
        value={answer}
        options={[
          {
            value: '96',
            label: '96 units per inch',
            hint: 'What browsers and most present-day programs use',
          },
          { value: '90', label: '90 units per inch', hint: 'Some older drawing programs' },
          { value: '72', label: '72 units per inch', hint: 'Typesetting points' },
          { value: 'own', label: 'Another number of units per inch' },
          { value: 'known', label: 'A line whose real length I know' },
        ]}
        onChange={(value) => {
          if (value !== '') choose(value);
        }}
      />
      {answer === 'own' ? (
        <NumberField
          label="Units per inch"
          kind="ratio"
          by={1}
          min={1}
          max={10000}
          value={reading.size.kind === 'perInch' ? reading.size.value : null}
          onCommit={(value) => {
            setPicked('');
            decidePart('reading', `${value} units per inch`, { size: { kind: 'perInch', value } });
          }}
        />
      ) : null}
      {answer === 'known' ? (
        <LengthField
          label={target ? 'Real length of the selected line' : 'Real length'}
          unit={unit}
          min={0.1}
          disabled={target === null}
          value={known && known.line === target ? known.length : null}
          hint={
            target
              ? 'Measure it on the printed original, along the line.'
              : 'First pick one line on the bench with the select tool.'
          }
          onCommit={(length) => {
            if (target === null) return;
            setPicked('');
            decidePart('reading', 'Size from a known length', {
              size: { kind: 'knownLength', line: target, length },
            });
          }}
        />
      ) : null}
    </Part>
  );
}
