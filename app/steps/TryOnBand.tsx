import { Ruler } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { describeCommand, runCommand } from '../commands';
import { useSession } from '../document';
import { Part } from './Sheet';

/** The paper band that proves the size in ten minutes: offered where the size is decided and where pages are made. */
export function TryOnBand() {
  const band = useSession(useShallow((s) => describeCommand('exportBand', s)));
  const busy = useSession((s) => s.progress !== null);
  return (
    <Part title="Try-on band">
      <p className="hint">
        A paper strip as long as the finished inside at the brow, and one over the crown. Tape it together,
        put it on with the padding, and know the size before any foam is cut.
      </p>
      <button type="button" disabled={!band.enabled || busy} onClick={() => runCommand('exportBand')}>
        <Ruler aria-hidden="true" size={16} /> Print try-on band…
      </button>
      {band.reason ? <p className="hint">{band.reason}</p> : null}
    </Part>
  );
}
