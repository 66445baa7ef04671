import type { ReactNode } from 'react';

interface ScrollBoxProps {
  readonly className: string;
  readonly label: string;
  readonly children: ReactNode;
}

/** A part that scrolls by itself. It takes the focus, so that the keyboard can scroll it (WCAG 2.1.1). */
export function ScrollBox({ className, label, children }: ScrollBoxProps) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for form controls; this is a plain scrolling group
    <div
      className={className}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: scrolling by keyboard needs the focus
      tabIndex={0}
      role="group"
      aria-label={label}
      onKeyDown={(event) => {
        // These keys scroll here; elsewhere they turn the steps.
        if (event.key === 'PageDown' || event.key === 'PageUp') event.stopPropagation();
      }}
    >
      {children}
    </div>
  );
}
