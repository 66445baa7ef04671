import { ChevronDown, ChevronUp, Maximize2, Minimize2 } from 'lucide-react';
import { lazy, Suspense, useEffect, useId, useRef, useState } from 'react';
import './card.css';
import { registerShellCard } from '../commands';
import { useSession } from '../document';

/** The view and its 3D library are fetched when a shell is first shown. */
const ShellView = lazy(() => import('./ShellView'));

type Place = 'folded' | 'corner' | 'full';

interface ShellCardProps {
  /** On a narrow screen the card is a button, and opens over the whole bench. */
  readonly narrow: boolean;
  /** Told when the card lies over the whole bench, so that what is below can rest. */
  readonly onFull: (full: boolean) => void;
}

/** The folded shell in a corner of the bench: folds away, enlarges to fill the bench and shrinks back. */
export function ShellCard({ narrow, onFull }: ShellCardProps) {
  const shell = useSession((s) => s.results.shell);
  const [wanted, setWanted] = useState<Place>('corner');
  const place: Place = narrow && wanted !== 'full' ? 'folded' : wanted;
  const title = useId();
  const body = useId();
  const enlarge = useRef<HTMLButtonElement>(null);
  const has = shell !== null;
  const full = has && place === 'full';

  useEffect(() => onFull(full), [full, onFull]);
  useEffect(() => {
    if (!has) return;
    return registerShellCard({
      toggle: () => setWanted((now) => (now === 'full' ? 'corner' : 'full')),
    });
  }, [has]);
  // Whoever asks for a place on the shell wants to see the shell.
  const asked = useSession((s) => s.shellFocus !== null);
  useEffect(() => {
    if (asked && has) setWanted((now) => (narrow ? 'full' : now === 'folded' ? 'corner' : now));
  }, [asked, has, narrow]);
  // What lay under the pointer is inert now: whoever enlarged goes on from the card's own button.
  const was = useRef(full);
  useEffect(() => {
    if (was.current !== full) enlarge.current?.focus({ preventScroll: true });
    was.current = full;
  }, [full]);

  if (!shell) return null;
  const open = place !== 'folded';
  const Chevron = open ? ChevronDown : ChevronUp;
  return (
    <section
      className="shell-card"
      data-place={place}
      aria-labelledby={title}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !full || event.defaultPrevented) return;
        event.preventDefault();
        setWanted('corner');
      }}
    >
      <div className="shell-head">
        <h2 id={title} className="shell-title">
          Shell
        </h2>
        {shell.quality === 'doubtful' ? <span className="shell-doubt">doubtful</span> : null}
        <span className="shell-space" />
        {full || narrow ? null : (
          <button
            type="button"
            className="icon-button"
            aria-expanded={open}
            aria-controls={body}
            aria-label={open ? 'Fold the shell card away' : 'Open the shell card'}
            title={open ? 'Fold away' : 'Open'}
            onClick={() => setWanted(open ? 'folded' : 'corner')}
          >
            <Chevron aria-hidden="true" size={18} />
          </button>
        )}
        <button
          ref={enlarge}
          type="button"
          className="icon-button"
          aria-label={full ? 'Shrink the shell card' : 'Enlarge the shell card'}
          title={full ? 'Back to the bench (Esc)' : 'Over the whole bench (F)'}
          onClick={() => setWanted(full ? 'corner' : 'full')}
        >
          {full ? <Minimize2 aria-hidden="true" size={18} /> : <Maximize2 aria-hidden="true" size={18} />}
        </button>
      </div>
      <div id={body} className="shell-body" hidden={!open}>
        {open ? (
          <Suspense fallback={<p className="waiting">Setting up the shell …</p>}>
            <ShellView full={full} />
          </Suspense>
        ) : null}
      </div>
    </section>
  );
}
