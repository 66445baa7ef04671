import { ChevronRight } from 'lucide-react';
import type { ReactNode } from 'react';

interface FoldedProps {
  readonly title: string;
  /** The value in force, so that nobody has to open it to know. */
  readonly value?: string;
  readonly open?: boolean;
  readonly children: ReactNode;
}

/** Rare settings and long tables, folded away. */
export function Folded({ title, value, open, children }: FoldedProps) {
  return (
    <details className="folded" open={open}>
      <summary>
        <ChevronRight aria-hidden="true" size={16} className="folded-mark" />
        <span className="folded-title">{title}</span>
        {value ? <span className="folded-value">{value}</span> : null}
      </summary>
      <div className="folded-body">{children}</div>
    </details>
  );
}
