/** Fields that several kinds of extra part share. */
import type { ExtraPart, OpeningChoice } from '../../../src/model';
import { runCommand } from '../../commands';
import { Choice, LengthField, SelectField } from '../../ui/fields';
import { endMerge, useUnit } from '../useWork';
import { chosenOpening, openingWords } from './extraRows';

/** Changes a part; `live` names the figure that is being dragged, so that it is one step of the history. */
export const put = (part: ExtraPart, live: string | null = null) =>
  runCommand('changeExtra', { part, ...(live === null ? {} : { merge: `extra ${part.id} ${live}` }) });

interface SizeProps {
  readonly label: string;
  readonly value: number;
  readonly min?: number;
  readonly max?: number;
  readonly hint?: string;
  /** The part with another value. */
  readonly change: (value: number) => ExtraPart;
}

export function Size({ label, value, min = 1, max = 3000, hint, change }: SizeProps) {
  const unit = useUnit();
  return (
    <LengthField
      label={label}
      unit={unit}
      decimals={unit === 'mm' ? 1 : 2}
      min={min}
      max={max}
      value={value}
      {...(hint === undefined ? {} : { hint })}
      onCommit={(mm, live) => put(change(mm), live ? label : null)}
      onSettle={endMerge}
    />
  );
}

export function Side({ part }: { readonly part: Extract<ExtraPart, { side: string }> }) {
  return (
    <Choice
      legend="It lies on the shell’s"
      value={part.side}
      options={[
        { value: 'outside', label: 'outside' },
        { value: 'inside', label: 'inside' },
      ]}
      onChange={(side) => put({ ...part, side })}
    />
  );
}

/** Which opening of the shell is meant. */
export function OpeningField({
  edges,
  openings,
  onChange,
}: {
  readonly edges: readonly string[];
  readonly openings: readonly OpeningChoice[];
  readonly onChange: (edges: readonly string[]) => void;
}) {
  const unit = useUnit();
  const chosen = chosenOpening(edges, openings);
  return (
    <SelectField
      label="Opening"
      value={String(chosen)}
      options={[
        ...(chosen < 0 ? [{ value: '-1', label: 'Choose an opening' }] : []),
        ...openings.map((o, i) => ({ value: String(i), label: openingWords(o, unit) })),
      ]}
      onChange={(value) => {
        const found = openings[Number(value)];
        if (found) onChange(found.edges);
      }}
    />
  );
}
