import { useMemo } from 'react';
import { tryDrawn } from '../../commands';
import { useSession } from '../../document';

/** What cutting along the drawn line would do: panels before and after, or why it can't be cut, with a way out. */
export function CutPreview() {
  const drawing = useSession((s) => s.drawing);
  const results = useSession((s) => s.results);
  const document = useSession((s) => s.document);
  const tried = useMemo(() => tryDrawn({ drawing, results, document }), [drawing, results, document]);
  if (!tried) return null;
  if (tried.issue)
    return (
      <p>
        {tried.issue.message} {tried.issue.remedy}
      </p>
    );
  return (
    <p>
      {tried.after === tried.before ? (
        <>
          <strong>{tried.before} panels stay</strong>: the cut ends inside a panel.
        </>
      ) : (
        <strong>
          {tried.before} panels become {tried.after}.
        </strong>
      )}
    </p>
  );
}
