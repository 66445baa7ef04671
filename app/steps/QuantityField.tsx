import { NumberField } from '../ui/fields';
import { decidePart, endMerge } from './useWork';

interface QuantityProps {
  readonly id: string;
  readonly name: string;
  /** How the thing is called: "piece", "panel". */
  readonly what: string;
  readonly value: number;
}

/** How often a piece or panel is cut. */
export function QuantityField({ id, name, what, value }: QuantityProps) {
  return (
    <NumberField
      label={`Quantity of ${what} ${name}`}
      labelHidden
      kind="count"
      by={1}
      min={1}
      max={99}
      value={value}
      onCommit={(quantity, live) =>
        decidePart(
          'marks',
          `Quantity of ${name}`,
          (old) => ({ ...old, quantities: { ...old.quantities, [id]: quantity } }),
          { key: `marks.quantity.${id}`, live },
        )
      }
      onSettle={endMerge}
    />
  );
}
