import { Crosshair } from 'lucide-react';
import { focusOn, select, session, shownIn } from '../document';
import { pointsOf } from '../ui/where';

/** Shows things on the bench and selects them. */
export function showOnBench(ids: readonly string[]): void {
  const points = pointsOf(ids, shownIn(session.getState()));
  select(ids, 'replace');
  if (points.length > 0) focusOn(points, ids);
}

/** "Show me" for a row: the name says what is shown. */
export function ShowButton({ ids, what }: { readonly ids: readonly string[]; readonly what: string }) {
  return (
    <button
      type="button"
      className="icon-button"
      title={`Show ${what}`}
      aria-label={`Show ${what}`}
      onClick={() => showOnBench(ids)}
    >
      <Crosshair aria-hidden="true" size={16} />
    </button>
  );
}
