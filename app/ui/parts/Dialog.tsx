import { X } from 'lucide-react';
import { type ReactNode, useEffect, useId, useRef } from 'react';
import { ScrollBox } from './ScrollBox';

interface DialogProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** Buttons under the content. */
  readonly actions?: ReactNode;
  readonly wide?: boolean;
}

/** A modal dialog on the native element: focus stays inside, Escape closes, focus returns to where it came from. */
export function Dialog({ title, onClose, children, actions, wide }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = ref.current;
    if (dialog && !dialog.open) dialog.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      ref={ref}
      className={wide ? 'dialog dialog-wide' : 'dialog'}
      aria-labelledby={id}
      onCancel={(event) => {
        // React owns the life of the element: it goes away when the state that shows it does.
        event.preventDefault();
        onClose();
      }}
    >
      <div className="dialog-head">
        <h2 id={id}>{title}</h2>
        <button type="button" className="icon-button" aria-label="Close" onClick={onClose}>
          <X aria-hidden="true" size={18} />
        </button>
      </div>
      <ScrollBox className="dialog-body" label={title}>
        {children}
      </ScrollBox>
      {actions ? <div className="dialog-actions">{actions}</div> : null}
    </dialog>
  );
}
