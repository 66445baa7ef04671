import { type KeyboardEvent, type ReactNode, useId, useState } from 'react';
import type { ParsedQuantity } from '../../../src/units';

/** What every number field shares; the typed fields fill in `shown`, `read` and `step`. */
export interface DraftFieldProps {
  readonly label: string;
  /** Keep the label for assistive technology only, e.g. in a table whose column names the figure. */
  readonly labelHidden?: boolean;
  /** The value as text while nobody types. */
  readonly shown: string;
  /** Unit shown after the box. */
  readonly suffix?: string;
  readonly hint?: ReactNode;
  readonly placeholder?: string;
  readonly disabled?: boolean;
  readonly read: (text: string) => ParsedQuantity<number>;
  /** Value after an arrow key, or null when there is nothing to step from. */
  readonly step?: (direction: 1 | -1, large: boolean) => number | null;
  /** `live`: one of a quick series of changes that belong together (arrow keys). */
  readonly onCommit: (value: number, live: boolean) => void;
  /** Emptied on purpose. Without it an empty box is a mistake. */
  readonly onClear?: () => void;
  /** A series of live changes has ended. */
  readonly onSettle?: () => void;
}

/**
 * A text box for one number with its unit. Typed text is committed on Enter or on leaving; text that cannot be read
 * stays as typed, with a sentence on what is wrong, until it is mended or Escape brings the value back.
 */
export function DraftField(props: DraftFieldProps) {
  const { label, shown, suffix, hint, read, step, onCommit, onClear, onSettle } = props;
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);

  const put = (text: string | null, why: string | null) => {
    setDraft(text);
    setProblem(why);
  };

  /** `asked`: with Enter, which takes what was typed even where the rounded value reads the same. */
  const commit = (asked: boolean) => {
    if (draft === null) return;
    if (draft.trim() === shown.trim() && !(asked && draft.trim())) return put(null, null);
    if (draft.trim() === '' && onClear) {
      put(null, null);
      return onClear();
    }
    const result = read(draft);
    if (!result.ok) return setProblem(result.reason);
    put(null, null);
    onCommit(result.value, false);
  };

  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Enter') {
      event.preventDefault();
      commit(true);
    } else if (event.key === 'Escape' && draft !== null) {
      event.preventDefault();
      event.stopPropagation();
      put(null, null);
    } else if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && step) {
      event.preventDefault();
      const next = step(event.key === 'ArrowUp' ? 1 : -1, event.shiftKey);
      if (next === null) return;
      put(null, null);
      onCommit(next, true);
    }
  };

  const hintId = hint ? `${id}-hint` : '';
  const problemId = problem ? `${id}-problem` : '';
  const describedBy = `${hintId} ${problemId}`.trim();
  return (
    <div className="field" data-invalid={problem !== null || undefined}>
      <label htmlFor={id} className={props.labelHidden ? 'unseen' : 'field-label'}>
        {label}
      </label>
      <span className="entry">
        <input
          id={id}
          type="text"
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          disabled={props.disabled}
          placeholder={props.placeholder}
          value={draft ?? shown}
          aria-invalid={problem !== null}
          {...(describedBy ? { 'aria-describedby': describedBy } : {})}
          onChange={(event) => setDraft(event.target.value)}
          onKeyDown={onKeyDown}
          onBlur={() => {
            commit(false);
            onSettle?.();
          }}
        />
        {suffix ? (
          <span className="entry-unit" aria-hidden="true">
            {suffix}
          </span>
        ) : null}
      </span>
      {hint ? (
        <p className="hint" id={hintId}>
          {hint}
        </p>
      ) : null}
      {problem ? (
        <p className="problem" id={problemId} role="alert">
          {problem}
        </p>
      ) : null}
    </div>
  );
}
