import { type ReactNode, useId } from 'react';

export interface Option<T extends string> {
  readonly value: T;
  readonly label: string;
  /** One short sentence under the label. */
  readonly hint?: string;
  readonly disabled?: boolean;
}

interface ChoiceProps<T extends string> {
  readonly legend: string;
  readonly legendHidden?: boolean;
  readonly value: T;
  readonly options: readonly Option<T>[];
  readonly onChange: (value: T) => void;
  /** `row`: side by side as one strip; `list`: one under the other, with hints. */
  readonly layout?: 'row' | 'list';
}

/** One of a few: native radio buttons. */
export function Choice<T extends string>(props: ChoiceProps<T>) {
  const name = useId();
  return (
    <fieldset className={`choice choice-${props.layout ?? 'row'}`}>
      <legend className={props.legendHidden ? 'unseen' : 'field-label'}>{props.legend}</legend>
      <div className="choice-options">
        {props.options.map((option) => (
          <label
            key={option.value}
            className="choice-option"
            data-on={option.value === props.value || undefined}
          >
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === props.value}
              disabled={option.disabled}
              onChange={() => props.onChange(option.value)}
            />
            <span>
              {option.label}
              {option.hint ? <small className="hint">{option.hint}</small> : null}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface ToggleProps {
  readonly label: string;
  readonly labelHidden?: boolean;
  readonly hint?: string;
  readonly checked: boolean;
  readonly disabled?: boolean;
  readonly onChange: (checked: boolean) => void;
}

/** On or off: a native checkbox. */
export function Toggle({ label, labelHidden, hint, checked, disabled, onChange }: ToggleProps) {
  const id = useId();
  return (
    <div className="toggle">
      <input
        id={id}
        type="checkbox"
        checked={checked}
        disabled={disabled}
        {...(hint ? { 'aria-describedby': `${id}-hint` } : {})}
        onChange={(event) => onChange(event.target.checked)}
      />
      <label htmlFor={id}>{labelHidden ? <span className="unseen">{label}</span> : label}</label>
      {hint ? (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      ) : null}
    </div>
  );
}

interface SelectFieldProps<T extends string> {
  readonly label: string;
  readonly labelHidden?: boolean;
  readonly value: T;
  readonly options: readonly Option<T>[];
  readonly disabled?: boolean;
  readonly hint?: ReactNode;
  readonly onChange: (value: T) => void;
}

/** One of many: a native select. */
export function SelectField<T extends string>(props: SelectFieldProps<T>) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id} className={props.labelHidden ? 'unseen' : 'field-label'}>
        {props.label}
      </label>
      <select
        id={id}
        value={props.value}
        disabled={props.disabled}
        {...(props.hint ? { 'aria-describedby': `${id}-hint` } : {})}
        onChange={(event) => {
          const chosen = props.options.find((option) => option.value === event.target.value);
          if (chosen) props.onChange(chosen.value);
        }}
      >
        {props.options.map((option) => (
          <option key={option.value} value={option.value} disabled={option.disabled}>
            {option.label}
          </option>
        ))}
      </select>
      {props.hint ? (
        <p className="hint" id={`${id}-hint`}>
          {props.hint}
        </p>
      ) : null}
    </div>
  );
}
