import { FlipHorizontal2, Search, X } from 'lucide-react';
import { isMirrorId } from '../../../src/panels';
import { counted } from '../names';
import { PlainButton } from '../panels/PlainButton';
import { Part } from '../Sheet';
import { useDecisions, useResults } from '../useWork';

/** One half drawn: its mirror image completes it, with a seam along the middle. */
export function HalfPattern() {
  const { half } = useDecisions().seams;
  const { pattern, seams } = useResults();
  const images = pattern?.pieces.filter((p) => isMirrorId(p.id)).length ?? 0;
  const middle = seams?.seams.filter((s) => isMirrorId(s.a.edge) !== isMirrorId(s.b.edge)).length ?? 0;
  return (
    <Part title="Half a pattern">
      {half ? (
        <>
          <p aria-live="polite">
            {counted(images, 'piece')} mirrored; both halves meet along {counted(middle, 'edge')}. Shell,
            measures and panels are of the whole; mirror pairs are drawn once (see Panels).
          </p>
          <div className="buttons">
            <PlainButton command="dropHalf" icon={X} />
          </div>
        </>
      ) : (
        <>
          <p className="hint">
            Is only one half drawn? Select the edges where both halves meet (or have them proposed), then
            complete it: its pieces and seams come once more, mirrored.
          </p>
          <div className="buttons">
            <PlainButton command="proposeHalfRim" icon={Search} />
            <PlainButton command="completeHalf" icon={FlipHorizontal2} />
          </div>
        </>
      )}
    </Part>
  );
}
