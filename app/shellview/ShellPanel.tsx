import { Crosshair, RotateCcw, RotateCw } from 'lucide-react';
import { useEffect } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { formatAngle, formatLength, radians } from '../../src/units';
import { describeCommand, runCommand } from '../commands';
import { endMerge, useSession } from '../document';
import { showOnBench } from '../steps/ShowButton';
import { useUnit } from '../steps/useWork';
import { AngleField, Toggle } from '../ui/fields';
import { Figures, Folded } from '../ui/parts';
import { GapLegend } from './GapLegend';
import { gapSizes } from './gapSizes';
import { gapStretches, gapsOn } from './gaps';
import type { ShellModel } from './model';
import { hatchOf, partsOn } from './onFaces';
import { homeView, straightViews, type View } from './orbit';
import { foamOn, type Shown } from './shown';
import type { BrowInHand } from './useBrow';
import { useCalm } from './useStage';

interface PanelProps {
  readonly model: ShellModel;
  readonly shown: Shown;
  readonly brow: BrowInHand;
  readonly view: View;
  /** The picture is drawn in lines, without 3D: what only 3D shows is left out. */
  readonly drawn: boolean;
  readonly onView: (view: View) => void;
  readonly onChange: (part: Partial<Shown>) => void;
}

const viewNames: readonly { readonly name: string; readonly view: Partial<View> }[] = [
  { name: 'Front', view: straightViews.front },
  { name: 'Right', view: straightViews.right },
  { name: 'Back', view: straightViews.back },
  { name: 'Left', view: straightViews.left },
  { name: 'Top', view: straightViews.top },
  { name: 'Aslant', view: {} },
];

/** The sheet of the enlarged shell: how it is shown, and its measures. */
export function ShellPanel(props: PanelProps) {
  const { model, drawn, onView } = props;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, so the keys must reach it
    <section className="shell-panel" aria-label="Shell: choices and measures" tabIndex={0}>
      {drawn ? (
        <p className="hint">
          This browser shows no 3D. The shell is drawn in lines; all measures are here. Folding, the brow
          plane, bend angles and the head are shown in 3D alone.
        </p>
      ) : (
        <FoldSlider {...props} />
      )}
      <div className="shell-views" role="toolbar" aria-label="Look from">
        {viewNames.map(({ name, view }) => (
          <button key={name} type="button" onClick={() => onView({ ...homeView, ...view })}>
            {name}
          </button>
        ))}
      </div>
      {drawn ? (
        <div className="shell-choices">
          <PartsOnIt {...props} />
        </div>
      ) : (
        <ShownChoices {...props} />
      )}
      <GapChoice {...props} />
      <BrowMeasures brow={props.brow} />
      <Room />
      <Openings {...props} />
      <Soundness model={model} />
      <Standing />
    </section>
  );
}

/** How far the pieces are folded, in words. */
const foldWords = (part: number): string =>
  part === 0 ? 'flat, as on the drawing' : part === 1 ? 'folded' : `${Math.round(part * 100)} % folded`;

function FoldSlider({ shown, onChange }: PanelProps) {
  return (
    <label className="shell-fold">
      <span>
        Fold <span className="soft">{foldWords(shown.part)}</span>
      </span>
      <input
        type="range"
        min={0}
        max={100}
        step={1}
        value={Math.round(shown.part * 100)}
        aria-label="Fold"
        aria-valuetext={foldWords(shown.part)}
        onChange={(e) => onChange({ part: Number(e.target.value) / 100, breathes: false, breath: 0 })}
      />
    </label>
  );
}

function ShownChoices({ model, shown, onChange }: PanelProps) {
  const fit = useSession((s) => s.results.fit?.shell ?? null);
  const calm = useCalm();
  const soft = model.shell.softModes.length > 0;
  const moving = shown.breathes && !calm;
  useEffect(() => {
    if (!moving) return;
    let frame = 0;
    const begin = performance.now();
    const period = 4000;
    const tick = (time: number) => {
      onChange({ breath: Math.sin((2 * Math.PI * (time - begin)) / period) });
      frame = requestAnimationFrame(tick);
    };
    frame = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(frame);
  }, [moving, onChange]);
  const noHead = fit?.headform ? null : 'Give the head’s measures in the Size step first.';
  return (
    <div className="shell-choices">
      <PartsOnIt shown={shown} onChange={onChange} />
      <Toggle label="Brow plane" checked={shown.brow} onChange={(brow) => onChange({ brow })} />
      <Toggle
        label="Bend angles"
        hint="A mark for every 10°: upright convex, zigzag concave."
        checked={shown.bends}
        onChange={(bends) => onChange({ bends })}
      />
      <Toggle
        label="Head inside the finished shell"
        hint={noHead ?? 'Hatched: less room than the ease asked for.'}
        checked={shown.head && noHead === null}
        disabled={noHead !== null}
        onChange={(head) => onChange({ head, part: 1, breathes: false, breath: 0 })}
      />
      {soft ? (
        <Toggle
          label="Let it breathe"
          hint="Moves along the motion that the paper resists least."
          checked={shown.breathes}
          onChange={(breathes) => onChange({ breathes, breath: 0, part: 1, head: false })}
        />
      ) : null}
      {soft && shown.breathes && calm ? (
        <label className="shell-fold">
          <span>Breath</span>
          <input
            type="range"
            min={-100}
            max={100}
            step={5}
            value={Math.round(shown.breath * 100)}
            aria-label="Breath"
            aria-valuetext={`${Math.round(shown.breath * 100)} % of the way shown`}
            onChange={(e) => onChange({ breath: Number(e.target.value) / 100 })}
          />
        </label>
      ) : null}
    </div>
  );
}

/** The dry fit on the picture, where there is one of these panels. */
function GapChoice({ model, shown, onChange }: PanelProps) {
  const unit = useUnit();
  const fitted = useSession((s) => gapsOn(model, s));
  if (!fitted) return null;
  const none = gapStretches(fitted.seams).length === 0;
  return (
    <div className="shell-choices">
      <Toggle label="Gaps of the dry fit" checked={shown.gaps} onChange={(gaps) => onChange({ gaps })} />
      {none ? (
        <p className="hint">
          No seam gapes or presses by {formatLength(gapSizes.at(-1)!.from, unit)} or more.
        </p>
      ) : shown.gaps ? (
        <GapLegend />
      ) : null}
    </div>
  );
}

/** Extra parts on the shell, each with its hatching in words. */
function PartsOnIt({ shown, onChange }: Pick<PanelProps, 'shown' | 'onChange'>) {
  const foam = useSession(foamOn);
  const parts = foam ? partsOn(foam) : [];
  if (!foam || parts.length === 0) return null;
  const all = [...(foam.onShell ?? []), ...(foam.standing ?? [])];
  const nameOf = (part: string) =>
    all
      .filter((l) => l.part === part)
      .map((l) => l.name)
      .join(', ');
  return (
    <>
      <Toggle
        label="Extra parts"
        checked={shown.layers}
        onChange={(layers) => onChange({ layers, part: 1, breathes: false, breath: 0 })}
      />
      {shown.layers ? (
        <ul className="rows rows-tight" aria-label="Extra parts by their hatching">
          {parts.map((part) => (
            <li key={part}>
              {nameOf(part)}: {hatchOf(parts, part).words}
              {all.find((l) => l.part === part)?.side === 'inside' ? ', inside' : ''}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

function BrowMeasures({ brow }: { readonly brow: BrowInHand }) {
  const unit = useUnit();
  const back = useSession(useShallow((s) => describeCommand('proposeBrow', s)));
  const { section } = brow;
  const length = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 1 : 2 });
  return (
    <div>
      <h3>Brow section, as drawn</h3>
      {section ? (
        <Figures
          label="Brow section"
          items={[
            { label: 'Girth, tape pulled taut', value: length(section.tautGirth) },
            { label: 'Girth along the surface', value: length(section.loop.girth) },
            { label: 'Front to back', value: length(section.length) },
            { label: 'Side to side', value: length(section.breadth) },
            {
              label: 'Height of the plane',
              value: `${Math.round(brow.at * 1000) / 10} %`,
              ...(brow.proposed ? { note: 'proposed' } : {}),
            },
            { label: 'Tilt, + up in front', value: formatAngle(brow.tilt) },
          ]}
        />
      ) : (
        <p className="hint">The plane misses the shell.</p>
      )}
      {back.enabled ? (
        <button type="button" className="quiet" onClick={() => runCommand('proposeBrow')}>
          {back.label}
        </button>
      ) : null}
    </div>
  );
}

/** Room between the head and the inside of the finished shell, where a head is given. */
function Room() {
  const unit = useUnit();
  const fit = useSession((s) => s.results.fit?.shell ?? null);
  const ask = useSession((s) => s.document?.decisions.fit ?? null);
  if (!fit?.clearances || !ask) return null;
  const { front, back, left, right, crown, smallest } = fit.clearances;
  const wanted = ask.padding + ask.clearance;
  const figure = (label: string, mm: number) => ({
    label,
    value: formatLength(mm, unit),
    ...(mm < wanted ? { look: true, note: mm < 0 ? 'inside the foam' : 'less than the ease' } : {}),
  });
  return (
    <div>
      <h3>Room round the head, finished</h3>
      <Figures
        label="Room round the head"
        items={[
          figure('Front', front),
          figure('Back', back),
          figure('Left', left),
          figure('Right', right),
          crown === null ? { label: 'Crown', value: 'open above' } : figure('Crown', crown),
          figure('Smallest', smallest.room),
        ]}
      />
      {fit.headform?.assumed.map((sentence) => (
        <p key={sentence} className="hint">
          {sentence}
        </p>
      ))}
    </div>
  );
}

function Openings({ model, drawn, shown, onChange }: PanelProps) {
  const unit = useUnit();
  const words = (girth: number, widest: number) =>
    `${formatLength(girth, unit)} round, ${formatLength(widest, unit)} wide`;
  if (model.openings.length === 0) return <p>The shell has no opening.</p>;
  return (
    <div>
      <h3>Openings</h3>
      <ol className="shell-openings">
        {model.openings.map((opening, i) => (
          <li key={opening.vertices[0]}>
            {drawn ? (
              words(opening.girth, opening.widest)
            ) : (
              <button
                type="button"
                className="quiet"
                aria-pressed={shown.opening === i}
                onPointerEnter={() => onChange({ opening: i })}
                onPointerLeave={() => onChange({ opening: null })}
                onFocus={() => onChange({ opening: i })}
                onBlur={() => onChange({ opening: null })}
              >
                {words(opening.girth, opening.widest)}
              </button>
            )}
          </li>
        ))}
      </ol>
    </div>
  );
}

/** How well the pattern folds up, what is worst, and what the person makes of it. */
function Soundness({ model: { shell } }: { readonly model: ShellModel }) {
  const unit = useUnit();
  const trusts = useSession((s) => s.document?.decisions.shell.trustDoubtful ?? false);
  const { residual, flexes, worst, quality, unsure } = shell;
  const fine = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 3 : 4 });
  return (
    <div>
      <h3>How it folds up</h3>
      <p>
        {quality === 'good'
          ? 'The pieces close to a shell.'
          : 'The shell is doubtful: its bends are not used until you say so.'}
      </p>
      <Figures
        label="How it folds up"
        items={[
          { label: 'Edges off, on average', value: fine(residual.rms) },
          { label: 'Edges off, at most', value: fine(residual.max) },
          { label: 'Free motions', value: String(flexes) },
          {
            label: 'Shape sure to about',
            value: `${formatLength(unsure.rms, unit)}, ${(100 * unsure.part).toFixed(1)} % of its size`,
          },
        ]}
      />
      {worst ? (
        <p className="shell-worst">
          Worst: {worst.what}.
          <button
            type="button"
            className="icon-button"
            title="Show the worst place"
            aria-label="Show the worst place"
            onClick={() => showOnBench(worst.ids)}
          >
            <Crosshair aria-hidden="true" size={16} />
          </button>
        </p>
      ) : null}
      {quality === 'doubtful' || trusts ? (
        <Toggle
          label="Take its bends anyway"
          checked={trusts}
          onChange={(trust) => runCommand('trustDoubtful', { trust })}
        />
      ) : null}
    </div>
  );
}

const axes = [
  { axis: 'x', label: 'About the ear to ear line', back: 'Front up', on: 'Front down' },
  { axis: 'y', label: 'About the back to front line', back: 'Lean left', on: 'Lean right' },
  { axis: 'z', label: 'About the upright line', back: 'Turn right', on: 'Turn left' },
] as const;

/** Turning the shell by hand, on top of the proposed orientation. */
function Standing() {
  const turned = useSession(useShallow((s) => s.document?.decisions.shell.turned ?? { x: 0, y: 0, z: 0 }));
  const back = useSession(useShallow((s) => describeCommand('turnShellBack', s)));
  const isTurned = back.enabled;
  const quarter = radians(90);
  return (
    <Folded title="Which way it stands" value={isTurned ? 'turned by hand' : 'as proposed'} open={isTurned}>
      {axes.map(({ axis, label, back: less, on: more }) => (
        <div key={axis} className="shell-turn">
          <AngleField
            label={label}
            value={turned[axis]}
            min={-Math.PI}
            max={Math.PI}
            onCommit={(angle, live) =>
              runCommand('turnShell', { [axis]: angle, ...(live ? { merge: `shell.turned.${axis}` } : {}) })
            }
            onSettle={endMerge}
          />
          <button
            type="button"
            aria-label={`${less} by 90°`}
            title={`${less} by 90°`}
            onClick={() => runCommand('turnShell', { [axis]: turned[axis] - quarter })}
          >
            <RotateCcw aria-hidden="true" size={16} />
          </button>
          <button
            type="button"
            aria-label={`${more} by 90°`}
            title={`${more} by 90°`}
            onClick={() => runCommand('turnShell', { [axis]: turned[axis] + quarter })}
          >
            <RotateCw aria-hidden="true" size={16} />
          </button>
        </div>
      ))}
      {isTurned ? (
        <button type="button" className="quiet" onClick={() => runCommand('turnShellBack')}>
          {back.label}
        </button>
      ) : null}
    </Folded>
  );
}
