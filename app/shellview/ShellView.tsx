import { useCallback, useEffect, useRef, useState } from 'react';
import './view.css';
import { session, shownIn, showOnShell, useSession } from '../document';
import { DrawnShell } from './DrawnShell';
import { type ShellModel, shellModel } from './model';
import { homeView, type View, viewOf } from './orbit';
import { ShellPanel } from './ShellPanel';
import { ShellSurface } from './ShellSurface';
import { type Shown, shownAtFirst } from './shown';
import { useBrow } from './useBrow';

/** The shell itself: the picture and, over the whole bench, its sheet of choices and figures. Loaded on demand. */
export default function ShellView({ full }: { readonly full: boolean }) {
  const model = useModel();
  return model ? <ShownShell model={model} full={full} /> : null;
}

/** The model belongs to the shell: pattern and seams are those that were there when the shell came. */
function useModel(): ShellModel | null {
  const shell = useSession((s) => shownIn(s).shell);
  const kept = useRef<ShellModel | null>(null);
  if (!shell) kept.current = null;
  else if (kept.current?.shell !== shell) {
    const { pattern, seams } = shownIn(session.getState());
    kept.current = pattern && seams ? shellModel(shell, pattern, seams) : null;
  }
  return kept.current;
}

function ShownShell({ model, full }: { readonly model: ShellModel; readonly full: boolean }) {
  const [shown, setShown] = useState<Shown>(shownAtFirst);
  const [view, setView] = useState<View>(homeView);
  const [flatPicture, setFlatPicture] = useState(false);
  const brow = useBrow(model.shell);
  const change = useCallback((part: Partial<Shown>) => setShown((now) => ({ ...now, ...part })), []);
  const noPicture = useCallback(() => setFlatPicture(true), []);
  const place = useSession((s) => s.shellFocus);
  useEffect(() => {
    if (!place) return;
    const next = viewOf(model.shell, place);
    if (next) {
      setView(next);
      change({ part: 1, breathes: false, breath: 0, head: false });
    }
    showOnShell(null);
  }, [place, model, change]);
  const Picture = flatPicture ? DrawnShell : ShellSurface;
  return (
    <div className="shell-view" data-full={full}>
      <Picture
        model={model}
        full={full}
        shown={shown}
        brow={brow}
        view={view}
        onView={setView}
        onNoPicture={noPicture}
      />
      {full ? (
        <ShellPanel
          model={model}
          shown={shown}
          brow={brow}
          view={view}
          drawn={flatPicture}
          onView={setView}
          onChange={change}
        />
      ) : null}
    </div>
  );
}
