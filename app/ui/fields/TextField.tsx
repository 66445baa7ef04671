import { useId, useState } from 'react';

interface TextFieldProps {
  readonly label: string;
  readonly labelHidden?: boolean;
  readonly value: string;
  readonly placeholder?: string;
  readonly maxLength?: number;
  readonly onCommit: (value: string) => void;
}

/** A short text, committed on Enter or on leaving; Escape brings the old one back. */
export function TextField({ label, labelHidden, value, placeholder, maxLength, onCommit }: TextFieldProps) {
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const commit = () => {
    if (draft !== null && draft.trim() !== value) onCommit(draft.trim());
    setDraft(null);
  };
  return (
    <div className="field">
      <label htmlFor={id} className={labelHidden ? 'unseen' : 'field-label'}>
        {label}
      </label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        maxLength={maxLength}
        placeholder={placeholder}
        value={draft ?? value}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault();
            commit();
          } else if (event.key === 'Escape' && draft !== null) {
            event.stopPropagation();
            setDraft(null);
          }
        }}
      />
    </div>
  );
}
