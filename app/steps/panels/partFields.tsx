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
  readonly value: number | null;
  readonly min?: number;
  readonly max?: number;
  readonly hint?: string;
  /** Counted in tenths. */
  readonly fine?: boolean;
  /** The part with another value. */
  readonly change: (value: number) => ExtraPart;
  /** The part without a value, where it may go without. */
  readonly without?: () => ExtraPart;
}

/** What stands at an opening, with the openings to choose from. */
export interface OfOpening<Part extends ExtraPart> {
  readonly part: Part;
  readonly openings: readonly OpeningChoice[];
}

export function Size({ label, value, min = 1, max = 3000, hint, fine = false, change, without }: SizeProps) {
  const unit = useUnit();
  return (
    <LengthField
      label={label}
      unit={unit}
      {...(fine ? { fine } : { decimals: unit === 'mm' ? 1 : 2 })}
      min={min}
      max={max}
      value={value}
      {...(hint === undefined ? {} : { hint })}
      {...(without ? { onClear: () => put(without()) } : {})}
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
