import { Combine } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import type { DryFit, DryFitWay, FoamResult, Seams } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { describeCommand, freshDryFit, runCommand } from '../../commands';
import { useSession } from '../../document';
import { GapLegend } from '../../shellview/GapLegend';
import { Figures, Folded } from '../../ui/parts';
import { counted } from '../names';
import { Part } from '../Sheet';
import { ShowButton } from '../ShowButton';
import { useDecisions, useUnit } from '../useWork';
import { clashRemedy, dryFitRows, modelWords, type Remedy, remedyContext } from './dryFitRows';
import { SeamDetail } from './SeamDetail';

/** A girth that is off by more is worth a look: padding takes up less. */
const girthWorthSaying = 2;

/** How many of the worst seams are listed at once. */
const listed = 8;

const percent = (share: number) => `${(100 * share).toFixed(2)} %`;

/** The panels with their thickness at their places on the shell: measured when asked for. */
export function DryFitPart({ foam, seams }: { readonly foam: FoamResult; readonly seams: Seams | null }) {
  const able = useSession(useShallow((s) => describeCommand('dryFit', s)));
  const busy = useSession((s) => s.progress !== null);
  const fit = useSession(useShallow(freshDryFit));
  return (
    <Part title="Dry fit">
      <p className="hint">
        Puts the panels, as thick as they are, at their places on the shell and measures where they gape and
        where they press.
      </p>
      <button type="button" disabled={!able.enabled || busy} onClick={() => runCommand('dryFit')}>
        <Combine aria-hidden="true" size={16} /> {fit ? 'Put them together again' : 'Put the panels together'}
      </button>
      {able.reason ? <p className="hint">{able.reason}</p> : null}
      <div aria-live="polite">
        {fit && !fit.fresh ? (
          <p className="hint">
            <strong>Older:</strong> the panels have changed since they were put together.
          </p>
        ) : null}
        {fit ? <Measured made={fit.made} fresh={fit.fresh} foam={foam} seams={seams} /> : null}
      </div>
    </Part>
  );
}

function Measured({
  made,
  fresh,
  foam,
  seams,
}: {
  readonly made: DryFit;
  /** Of the panels that are there now: remedies and places count. */
  readonly fresh: boolean;
  readonly foam: FoamResult;
  readonly seams: Seams | null;
}) {
  const { foam: decisions } = useDecisions();
  const wanted = useSession((s) => s.results.fit?.insideGirthWanted ?? null);
  const unit = useUnit();
  const length = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 2 : 3 });
  const { gap, overlapShare } = made.designed;
  const rows = dryFitRows(made, foam, seams, decisions);
  const context = remedyContext(foam, seams, decisions);
  const row = (r: (typeof rows)[number]) => (
    <li key={r.seam} className="row">
      <div>
        <strong>Seam {r.name}</strong>: {length(r.worst)} {r.what === 'open' ? 'open' : 'too tight'} {r.where}
        . {r.remedy.words}
        <MendButton remedy={r.remedy} of={`seam ${r.name}`} fresh={fresh} />
        <SeamDetail name={r.name} seam={r.measured} fit={made} length={length} />
      </div>
      <ShowButton
        ids={[r.seam]}
        what={`seam ${r.name} on the bench and the shell`}
        {...(fresh ? { place: r.measured.place } : {})}
      />
    </li>
  );
  return (
    <>
      <Figures
        label="Dry fit"
        items={[
          ...(gap
            ? [
                { label: 'Mean gap', value: length(gap.mean) },
                { label: 'Nineteen of twenty places within', value: length(gap.p95) },
                { label: 'Largest gap', value: length(gap.max) },
              ]
            : []),
          { label: 'Foam that is in two panels at once', value: percent(overlapShare) },
          ...(made.insideGirth === null
            ? []
            : [
                {
                  label: 'Inside girth at the brow',
                  value: formatLength(made.insideGirth, unit),
                  ...(wanted === null
                    ? {}
                    : {
                        note: `${formatLength(wanted, unit)} wanted`,
                        look: Math.abs(made.insideGirth - wanted) > girthWorthSaying,
                      }),
                },
              ]),
          ...(made.leftOut.length > 0
            ? [
                {
                  label: 'Panels without a place',
                  value: made.leftOut.length,
                  note: 'not on the shell',
                  look: true,
                },
              ]
            : []),
        ]}
      />
      <p className="hint">
        The worse of two ways in which foam may bend: {modelWords.rigid}, and {modelWords.mitre}. Real foam
        lies between. Below about 0.2 mm a gap says little about real foam.
      </p>
      {fresh ? (
        <Folded title="How it is drawn on the shell" value="dash and weight">
          <GapLegend />
        </Folded>
      ) : null}
      {made.clashes.length > 0 ? (
        <>
          <p>
            {counted(made.clashes.length, 'pair')} of panels that are not glued together run into each other:
          </p>
          <ul className="rows">
            {made.clashes.slice(0, listed).map((clash) => {
              const { panels, volume, vertex } = clash;
              const names = panels.map((id) => foam.panels.find((p) => p.id === id)?.name ?? id);
              const remedy = clashRemedy(clash, context);
              return (
                <li key={panels.join(' ')} className="row">
                  <div>
                    <strong>Panels {names.join(' and ')}</strong>: {Math.round(volume)} mm³. {remedy.words}
                    <MendButton remedy={remedy} of={`panels ${names.join(' and ')}`} fresh={fresh} />
                  </div>
                  <ShowButton
                    ids={panels}
                    what={`panels ${names.join(' and ')}`}
                    {...(fresh ? { place: { vertices: [vertex, vertex] as const, part: 0 } } : {})}
                  />
                </li>
              );
            })}
          </ul>
        </>
      ) : null}
      <h4>Worst seams</h4>
      <ol className="rows">{rows.slice(0, listed).map(row)}</ol>
      {rows.length > listed ? (
        <Folded title="All other seams" value={`${rows.length - listed}`}>
          <ol className="rows" start={listed + 1}>
            {rows.slice(listed).map(row)}
          </ol>
        </Folded>
      ) : null}
      <Folded title="What else would come of it" value="another foam, bare paper">
        <ul className="rows">
          {made.otherNeutral.map(({ neutralRatio, way }) => (
            <li key={neutralRatio}>
              Foam with K {Math.round(neutralRatio * 100) / 100}: <WayWords way={way} length={length} />
            </li>
          ))}
          {made.uncompensated ? (
            <li>
              The paper pieces cut square from this foam:{' '}
              <WayWords way={made.uncompensated} length={length} />
            </li>
          ) : null}
        </ul>
      </Folded>
    </>
  );
}

/** The remedy as one undoable step; nothing where only the hand can do it, or the panels have changed. */
function MendButton({
  remedy: { act },
  of,
  fresh,
}: {
  readonly remedy: Remedy;
  readonly of: string;
  readonly fresh: boolean;
}) {
  if (!act || !fresh) return null;
  return (
    <button
      type="button"
      className="quiet"
      aria-label={`${act.label}: ${of}`}
      onClick={() => runCommand('mend', act.mend)}
    >
      {act.label}
    </button>
  );
}

function WayWords({ way, length }: { readonly way: DryFitWay; readonly length: (mm: number) => string }) {
  const { gap, overlapShare } = way;
  return (
    <>
      {gap ? `${length(gap.mean)} mean gap, ${length(gap.max)} at most, ` : ''}
      {percent(overlapShare)} in two panels at once.
    </>
  );
}
