import type { ReactNode } from 'react';
import { ScrollBox } from '../ui/parts';

interface SheetProps {
  readonly title: string;
  /** One sentence: what this step decides. */
  readonly about: string;
  readonly children: ReactNode;
  /** The one main action, and at most one or two quieter ones. */
  readonly actions?: ReactNode;
}

/** The frame of a step's sheet. */
export function Sheet({ title, about, children, actions }: SheetProps) {
  return (
    <>
      <header className="sheet-head">
        <h2>{title}</h2>
        <p>{about}</p>
      </header>
      <ScrollBox className="sheet-body" label={`${title}: choices and results`}>
        {children}
      </ScrollBox>
      {actions ? <footer className="sheet-actions">{actions}</footer> : null}
    </>
  );
}

/** A titled part of a sheet. */
export function Part({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="part">
      <h3>{title}</h3>
      {children}
    </section>
  );
}
