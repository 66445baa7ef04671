import { useMemo } from 'react';
import { uprightWords } from '../../../src/panels';
import { formatLength } from '../../../src/units';
import { joinPlan, seamsToJoin } from '../../commands';
import { session, useSession } from '../../document';
import { useUnit } from '../useWork';

/** What joining across the selected seams would do: panels before and after, and the darts that a misfit opens. */
export function JoinPreview() {
  const selection = useSession((s) => s.selection);
  const results = useSession((s) => s.results);
  const document = useSession((s) => s.document);
  const unit = useUnit();
  const plan = useMemo(() => {
    const now = { ...session.getState(), selection, results, document };
    return joinPlan(
      now,
      seamsToJoin(now).map((s) => s.id),
    );
  }, [selection, results, document]);
  if (!plan) return null;
  if (plan.upright)
    return (
      <p>
        <strong>This seam stays a seam</strong>, because {uprightWords(plan.upright)}. Glue it, or join one
        side alone where it folds into the hole.
      </p>
    );
  const opened = plan.darts.filter((d) => d.width > 0.05);
  const widest = Math.max(0, ...opened.map((d) => d.width));
  const length = (mm: number) => formatLength(mm, unit, { decimals: 1 });
  return (
    <p>
      <strong>
        {plan.after === plan.before
          ? `${plan.before} panels stay`
          : `${plan.before} panels become ${plan.after}`}
      </strong>{' '}
      when this is joined.
      {opened.length > 0
        ? ` ${opened.length === 1 ? 'A relief dart opens' : `${opened.length} relief darts open`}, up to ${length(widest)} wide: where it does least harm, both sides marked as one seam.`
        : ''}
      {plan.misfit > 0.005 ? ` Foam gives by up to ${length(plan.misfit)} along an edge.` : ''}
      {plan.forced
        ? ' No dart within the limit takes the misfit up: split elsewhere, or allow a wider dart under “What foam can follow”.'
        : ''}
    </p>
  );
}
