import { useId } from 'react';
import { DraftField, type DraftFieldProps } from './DraftField';
import {
  angleStep,
  angleText,
  lengthStep,
  lengthText,
  type NumberKind,
  nextStep,
  numberText,
  type Range,
  readAngle,
  readLength,
  readNumber,
  type ShownUnit,
} from './entry';

type Common = Pick<
  DraftFieldProps,
  'label' | 'labelHidden' | 'hint' | 'placeholder' | 'disabled' | 'onCommit' | 'onClear' | 'onSettle'
>;

interface LengthProps extends Common, Range {
  /** mm, or null while nothing is given. */
  readonly value: number | null;
  readonly unit: ShownUnit;
  readonly decimals?: number;
  /** Small steps, for lengths of a few mm. */
  readonly fine?: boolean;
}

/** The unit is part of the name that is read out, so that "5" is never a bare number. */
const named = (label: string, unit: ShownUnit) => `${label}, ${unit === 'mm' ? 'mm' : 'in'}`;

/** A length: shown in the person's unit, typed in any. */
export function LengthField({ value, unit, decimals, fine = false, min, max, ...rest }: LengthProps) {
  const range = rangeOf(min, max);
  return (
    <DraftField
      {...rest}
      label={rest.labelHidden ? named(rest.label, unit) : rest.label}
      shown={lengthText(value, unit, decimals)}
      suffix={unit}
      read={(text) => readLength(text, unit, range)}
      step={(direction, large) =>
        value === null ? null : nextStep(value, direction, lengthStep(unit, fine), large, range)
      }
    />
  );
}

interface AngleProps extends Common, Range {
  /** Radians, or null while nothing is given. */
  readonly value: number | null;
}

/** An angle in degrees. */
export function AngleField({ value, min, max, ...rest }: AngleProps) {
  const range = rangeOf(min, max);
  return (
    <DraftField
      {...rest}
      shown={angleText(value)}
      suffix="°"
      read={(text) => readAngle(text, range)}
      step={(direction, large) => nextStep(value ?? 0, direction, angleStep, large, range)}
    />
  );
}

interface NumberProps extends Common, Range {
  readonly value: number | null;
  readonly kind: NumberKind;
  /** One arrow key's worth, in the units of the value. */
  readonly by: number;
}

/** A ratio, percent or count. */
export function NumberField({ value, kind, by, min, max, ...rest }: NumberProps) {
  const range = rangeOf(min, max);
  return (
    <DraftField
      {...rest}
      shown={numberText(value, kind)}
      {...(kind === 'percent' ? { suffix: '%' } : {})}
      read={(text) => readNumber(text, kind, range)}
      step={(direction, large) => (value === null ? null : nextStep(value, direction, by, large, range))}
    />
  );
}

interface SlidingLengthProps extends Common {
  readonly value: number;
  readonly unit: ShownUnit;
  readonly min: number;
  readonly max: number;
}

/**
 * A length with a slider beside its box. One drag is one series of live changes, ended by `onSettle`; so are quick
 * presses of the arrow keys, which the history ends by itself after a pause.
 */
export function SlidingLengthField({ value, unit, min, max, ...rest }: SlidingLengthProps) {
  const id = useId();
  return (
    <div className="sliding">
      <LengthField {...rest} value={value} unit={unit} min={min} fine />
      <input
        id={id}
        type="range"
        aria-label={`${rest.label}, slider`}
        aria-valuetext={`${lengthText(value, unit)} ${unit}`}
        min={min}
        max={max}
        step={lengthStep(unit, true)}
        value={Math.min(max, value)}
        disabled={rest.disabled}
        onChange={(event) => rest.onCommit(Number(event.target.value), true)}
        onPointerUp={() => rest.onSettle?.()}
        onBlur={() => rest.onSettle?.()}
      />
    </div>
  );
}

function rangeOf(min: number | undefined, max: number | undefined): Range {
  return { ...(min === undefined ? {} : { min }), ...(max === undefined ? {} : { max }) };
}
