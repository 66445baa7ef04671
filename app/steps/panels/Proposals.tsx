import { Check, Sparkles, X } from 'lucide-react';
import type { PanelProposal, ProposalKind } from '../../../src/model';
import { cutEdgeId, joinedFoldId } from '../../../src/model';
import { formatAngle, formatLength } from '../../../src/units';
import { currentProposal, runCommand } from '../../commands';
import { useSession } from '../../document';
import { AngleField, LengthField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { Part } from '../Sheet';
import { showOnBench } from '../ShowButton';
import { endMerge, useDecisions, useResults, useUnit } from '../useWork';

const kinds: readonly { readonly kind: ProposalKind; readonly label: string; readonly hint: string }[] = [
  {
    kind: 'splits',
    label: 'Split where foam can’t follow',
    hint: 'Cuts folds that are too sharp, and panels that are too curved or too large.',
  },
  {
    kind: 'slits',
    label: 'Relief slits where foam bends doubly',
    hint: 'Where a panel bulges round a point, so that it can’t lie flat: a slit from there to the outline, along folds.',
  },
  {
    kind: 'joins',
    label: 'Join pieces to fewest panels',
    hint: 'Keeps every piece whole and joins them where they lie flat together.',
  },
  {
    kind: 'anew',
    label: 'Fewest panels, cut anew',
    hint: 'Forgets how the paper was cut and starts from its single faces; both halves come out alike.',
  },
];

/** Cuts and joins that the program finds, shown before they are taken. */
export function Proposals() {
  const made = useSession(currentProposal);
  const busy = useSession((s) => s.progress !== null);
  const { shell } = useResults();
  return (
    <Part title="Proposals">
      <Limits />
      {shell ? null : <p className="hint">Panels are proposed once the pattern is folded up.</p>}
      <ul className="rows">
        {kinds.map(({ kind, label, hint }) => (
          <li key={kind}>
            <button
              type="button"
              disabled={busy || !shell}
              onClick={() => runCommand('proposePanels', { kind })}
            >
              <Sparkles aria-hidden="true" size={16} /> {label}
            </button>
            <p className="hint">{hint}</p>
          </li>
        ))}
      </ul>
      <div aria-live="polite">{made ? <Proposal made={made} busy={busy} /> : null}</div>
    </Part>
  );
}

/** @param busy another one is being looked for: what is still shown can't be taken meanwhile */
function Proposal({ made, busy }: { readonly made: PanelProposal; readonly busy: boolean }) {
  const unit = useUnit();
  const { recut, fit } = useResults();
  const scale = fit?.scale ?? 1;
  const cuts = made.edits.flatMap((e) => (e.kind === 'cut' ? e.lines : []));
  const joins = made.edits.flatMap((e) => (e.kind === 'join' ? e.lines : []));
  if (cuts.length + joins.length === 0)
    return (
      <div className="row">
        <p>Nothing to propose: within these limits the panels stay as they are.</p>
        <button type="button" onClick={() => runCommand('discardProposal')}>
          <X aria-hidden="true" size={16} /> Close
        </button>
      </div>
    );
  const places = [...cuts, ...joins].flatMap((id) => [id, joinedFoldId(id), cutEdgeId(id, 'l')]);
  const seams = recut ? recut.seams.seams.filter((s) => joins.includes(s.id)).map((s) => s.id) : [];
  return (
    <section aria-label="What is proposed">
      <p>
        <strong>
          {made.after.panels === made.before.panels
            ? `${made.before.panels} panels stay`
            : `${made.before.panels} panels become ${made.after.panels}`}
        </strong>
        ; seams {formatLength(made.before.seams, unit)} become {formatLength(made.after.seams, unit)}.
        {cuts.length > 0 ? ` ${counted(cuts.length, 'fold')} would be cut.` : ''}
        {joins.length > 0 ? ` ${counted(joins.length, 'seam edge')} would be closed.` : ''}
        {made.symmetric ? ' Both halves alike.' : ''}
      </p>
      {made.darts.length > 0 ? (
        <p>
          {counted(made.darts.length, 'relief dart')} in all, up to{' '}
          {formatLength(made.darts[0]!.width * scale, unit, { decimals: 1 })} wide
          {made.darts.length > 1
            ? ` (${made.darts
                .slice(0, 6)
                .map((d) => formatLength(d.width * scale, unit, { decimals: 1 }))
                .join(', ')}${made.darts.length > 6 ? ' …' : ''})`
            : ''}
          ; each is a seam with marks on both sides.
        </p>
      ) : null}
      {made.beyond.length > 0 ? (
        <p className="hint">
          {counted(made.beyond.length, 'panel')} would still be more curved or larger than the limits, or than
          the sheet of foam; split first, or cut anew.
        </p>
      ) : null}
      <div className="buttons">
        <button
          type="button"
          className="main-action"
          disabled={busy}
          onClick={() => runCommand('acceptProposal')}
        >
          <Check aria-hidden="true" size={16} /> Accept
        </button>
        <button type="button" onClick={() => runCommand('discardProposal')}>
          <X aria-hidden="true" size={16} /> Discard
        </button>
        <button type="button" onClick={() => showOnBench([...places, ...seams])}>
          Show on the bench
        </button>
      </div>
    </section>
  );
}

/** What foam can follow, folded away with its figures shown. */
function Limits() {
  const { limits } = useDecisions().panels;
  const unit = useUnit();
  const set = (key: string, part: Partial<typeof limits>, live: boolean) =>
    runCommand('setPanelLimits', { limits: part, ...(live ? { merge: `panels.${key}` } : {}) });
  return (
    <Folded
      title="What foam can follow"
      value={`bends to ${formatAngle(limits.bend)}, panels to ${formatLength(limits.reach, unit)}`}
    >
      <AngleField
        label="Sharpest bend inside a panel"
        value={limits.bend}
        min={0}
        max={Math.PI / 2}
        hint="Foam buckles over 35° to 40°."
        onCommit={(bend, live) => set('bend', { bend }, live)}
        onSettle={endMerge}
      />
      <AngleField
        label="Largest curve of a panel"
        value={limits.spread}
        min={0}
        max={Math.PI}
        hint="How far any part of a panel leans from its middle. 35° keeps panels easy; 60° makes fewer, larger ones."
        onCommit={(spread, live) => set('spread', { spread }, live)}
        onSettle={endMerge}
      />
      <LengthField
        label="Largest panel, corner to corner"
        unit={unit}
        min={50}
        max={3000}
        value={limits.reach}
        hint="Every panel has to fit on a sheet of foam as well, as Sheets and Build name it."
        onCommit={(reach, live) => set('reach', { reach }, live)}
        onSettle={endMerge}
      />
      <LengthField
        label="Widest dart that a join may leave"
        unit={unit}
        fine
        min={0}
        max={100}
        value={limits.dart}
        onCommit={(dart, live) => set('dart', { dart }, live)}
        onSettle={endMerge}
      />
      <LengthField
        label="Joined edges lie on each other within"
        unit={unit}
        decimals={2}
        fine
        min={0.05}
        max={5}
        value={limits.misfit}
        hint="Foam gives a little: 1 mm is safe."
        onCommit={(misfit, live) => set('misfit', { misfit }, live)}
        onSettle={endMerge}
      />
    </Folded>
  );
}
