/** Fields for single figures of the decisions: they show the value in force, and a change is one undo step. */
import type { ComponentProps } from 'react';
import type { Decisions } from '../../src/model';
import { LengthField, NumberField } from '../ui/fields';
import { decidePart, endMerge, useDecisions, useUnit } from './useWork';

/** Names of the figures in a part of the decisions. */
type FigureOf<T> = { [N in keyof T]: T[N] extends number ? N : never }[keyof T] & string;

interface Decided<P extends keyof Decisions> {
  readonly part: P;
  readonly name: FigureOf<Decisions[P]>;
  /** What the undo step is called. */
  readonly undo: string;
}

type Kept = 'value' | 'unit' | 'onCommit' | 'onSettle' | 'onClear';

function useDecided<P extends keyof Decisions>({ part, name, undo }: Decided<P>) {
  const decided = useDecisions()[part];
  return {
    value: Number(decided[name]),
    onCommit: (value: number, live: boolean) =>
      decidePart(part, undo, (old) => ({ ...old, [name]: value }), { key: `${part}.${name}`, live }),
    onSettle: endMerge,
  };
}

export function DecidedLength<P extends keyof Decisions>({
  part,
  name,
  undo,
  ...field
}: Decided<P> & Omit<ComponentProps<typeof LengthField>, Kept>) {
  const unit = useUnit();
  return <LengthField {...field} unit={unit} {...useDecided({ part, name, undo })} />;
}

export function DecidedNumber<P extends keyof Decisions>({
  part,
  name,
  undo,
  ...field
}: Decided<P> & Omit<ComponentProps<typeof NumberField>, Kept>) {
  return <NumberField {...field} {...useDecided({ part, name, undo })} />;
}
