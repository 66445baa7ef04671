import type { Mm } from '../../../src/units';
import { LengthField } from '../../ui/fields';
import { useUnit } from '../useWork';

/** How far panels that count as mirror images may differ. */
export function WithinField(props: {
  readonly label: string;
  readonly hint: string;
  readonly max: Mm;
  readonly value: Mm;
  readonly onCommit: (within: Mm, live: boolean) => void;
  readonly onSettle?: () => void;
}) {
  return <LengthField {...props} unit={useUnit()} decimals={2} fine min={0.01} />;
}
