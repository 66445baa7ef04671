import type { ReactNode } from 'react';

export interface Figure {
  readonly label: string;
  readonly value: ReactNode;
  /** A few words under the figure. */
  readonly note?: string;
  /** The figure wants a look; the note says why, so that colour never stands alone. */
  readonly look?: boolean;
}

/** Results in figures. Read out politely when they change. */
export function Figures({ label, items }: { readonly label: string; readonly items: readonly Figure[] }) {
  return (
    <section className="figures" aria-label={label} aria-live="polite">
      <dl>
        {items.map((item) => (
          <div key={item.label} className="figure" data-look={item.look || undefined}>
            <dt>{item.label}</dt>
            <dd>
              {item.value}
              {item.note ? <small> {item.note}</small> : null}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
