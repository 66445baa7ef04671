import { Crosshair } from 'lucide-react';
import { focusOn, type Session, select, session, shownIn, showOnShell } from '../document';
import { pointsOf } from '../ui/where';

/** Shows things on the bench and selects them. */
export function showOnBench(ids: readonly string[]): void {
  const points = pointsOf(ids, shownIn(session.getState()));
  select(ids, 'replace');
  if (points.length > 0) focusOn(points, ids);
}

/** "Show me" for a row: the name says what is shown. */
export function ShowButton({
  ids,
  what,
  place,
}: {
  readonly ids: readonly string[];
  readonly what: string;
  /** The shell turns there as well. */
  readonly place?: NonNullable<Session['shellFocus']>;
}) {
  return (
    <button
      type="button"
      className="icon-button"
      title={`Show ${what}`}
      aria-label={`Show ${what}`}
      onClick={() => {
        showOnBench(ids);
        if (place) showOnShell(place);
      }}
    >
      <Crosshair aria-hidden="true" size={16} />
    </button>
  );
}
