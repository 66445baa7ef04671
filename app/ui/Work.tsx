import { ChevronDown, ChevronUp } from 'lucide-react';
import { lazy, Suspense, useCallback, useEffect, useRef, useState } from 'react';
import { stepLabels } from '../commands';
import { type StepName, useSession } from '../document';
import { ShellCard } from '../shellview';
import {
  BuildStep,
  FoamStep,
  PagesStep,
  PanelsStep,
  PatternStep,
  SeamsStep,
  SheetsStep,
  SizeStep,
} from '../steps';
import { BenchTools } from './BenchTools';
import { Findings, useFindingsSummary } from './Findings';
import { Progress } from './Progress';
import { Rail } from './Rail';
import { TopBar } from './TopBar';
import { useNarrow } from './useNarrow';

/** The canvas library is only fetched once a pattern is open. */
const Bench = lazy(() => import('../canvas').then((canvas) => ({ default: canvas.Bench })));

const sheets: Readonly<Record<StepName, () => React.JSX.Element>> = {
  pattern: PatternStep,
  seams: SeamsStep,
  size: SizeStep,
  panels: PanelsStep,
  foam: FoamStep,
  sheets: SheetsStep,
  pages: PagesStep,
  build: BuildStep,
};

/** What an open panel takes of the bench on a narrow screen, as in work.css. */
const panelShare = 0.52;
const nothingCovered = { left: 0, top: 0, right: 0, bottom: 0 };
const halfCovered = { ...nothingCovered, bottom: Math.round(innerHeight * panelShare) };

/** The one bench: steps on the left, the bench in the middle, the step's sheet on the right, findings below. */
export function Work() {
  const step = useSession((s) => s.step);
  const title = useSession((s) => s.document?.title ?? '');
  const stale = useSession((s) => s.stale);
  // On a narrow screen one panel at a time lies over the bench; on a wide one the sheet is always there.
  const [over, setOver] = useState<'sheet' | 'findings' | null>('sheet');
  const narrow = useNarrow();
  // On a narrow screen the line of help and its buttons need the card's place.
  const laying = useSession((s) => s.tool === 'offcut' || s.tool === 'draw');
  const [shellFull, setShellFull] = useState(false);
  // The shell is looked at without the choices over its lower half; they come back with the bench, or by their button.
  const putAway = useRef<typeof over>(null);
  const onShellFull = useCallback(
    (full: boolean) => {
      setShellFull(full);
      if (!narrow) return;
      setOver((now) => {
        if (!full) return now ?? putAway.current;
        putAway.current = now;
        return null;
      });
    },
    [narrow],
  );
  // What is laid on the bench needs the bench: the choices come back when the tool is put down.
  const toBench = useSession((s) => s.toBench);
  useEffect(() => {
    if (narrow && toBench > 0) setOver(null);
  }, [narrow, toBench]);
  useEffect(() => {
    if (!narrow || !laying) return;
    setOver(null);
    return () => setOver((now) => now ?? 'sheet');
  }, [narrow, laying]);
  const summary = useFindingsSummary();
  const Sheet = sheets[step];
  const findingsOpen = over === 'findings';
  const toggle = (panel: 'sheet' | 'findings') => setOver(over === panel ? null : panel);
  return (
    <div className="work" data-over={over ?? 'none'}>
      <nav className="skips" aria-label="Skip">
        <a href="#bench">Skip to the bench</a>
        <a href="#sheet">Skip to the choices of this step</a>
      </nav>
      <TopBar />
      <Rail onChoose={(chosen) => setOver(chosen === step && over === 'sheet' ? null : 'sheet')} />
      <main id="bench" className="bench-area" tabIndex={-1} aria-busy={stale}>
        <h1 className="unseen">
          {title}: {stepLabels[step]}
        </h1>
        <div className="bench-under" inert={shellFull}>
          <BenchTools />
          <Suspense fallback={<p className="waiting">Laying out the bench …</p>}>
            <Bench covered={narrow && over ? halfCovered : nothingCovered} />
          </Suspense>
        </div>
        {narrow && laying ? null : <ShellCard narrow={narrow} onFull={onShellFull} />}
        <Progress />
      </main>
      <section className="findings" aria-label="Findings" data-open={findingsOpen}>
        <button
          type="button"
          className="findings-toggle"
          aria-expanded={findingsOpen}
          aria-controls="findings-list"
          onClick={() => toggle('findings')}
        >
          {findingsOpen ? (
            <ChevronDown aria-hidden="true" size={16} />
          ) : (
            <ChevronUp aria-hidden="true" size={16} />
          )}
          Findings<span className="findings-summary">{summary}</span>
        </button>
        <div id="findings-list" hidden={!findingsOpen}>
          {findingsOpen ? <Findings onShow={() => narrow && setOver(null)} /> : null}
        </div>
      </section>
      <button
        type="button"
        className="sheet-toggle"
        aria-expanded={over === 'sheet'}
        aria-controls="sheet"
        onClick={() => toggle('sheet')}
      >
        {over === 'sheet' ? (
          <ChevronDown aria-hidden="true" size={16} />
        ) : (
          <ChevronUp aria-hidden="true" size={16} />
        )}
        Choices
      </button>
      <aside id="sheet" className="sheet" tabIndex={-1} aria-label={`Choices: ${stepLabels[step]}`}>
        <Sheet key={step} />
      </aside>
    </div>
  );
}
