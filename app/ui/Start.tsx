import { FolderOpen, Trash2 } from 'lucide-react';
import { useCallback, useEffect, useState } from 'react';
import { runCommand } from '../commands';
import {
  type DocumentCard,
  deleteRecent,
  openRecent,
  openSample,
  recentDocuments,
  type Sample,
  sampleAddress,
  samples,
} from '../document';
import { Mark } from './Mark';
import { CautionNote, Dialog } from './parts';

/** Manners of drawing that a sample comes in, in words. */
const mannerWords: Readonly<Record<string, string>> = {
  clean: 'tidy drawing',
  loose: 'rough drawing',
  unnumbered: 'rough, no numbers',
};

/** Before a pattern is open. */
export function Start() {
  return (
    <div className="start">
      <header className="start-head">
        <h1>
          <Mark size={44} /> Girthwise
        </h1>
      </header>
      <main>
        <section className="start-open" aria-label="Open a pattern">
          <p className="start-sentence">
            From an unfolded paper pattern to foam panels that glue up into a costume shell that fits one
            wearer.
          </p>
          <button type="button" className="main-action" onClick={() => runCommand('open')}>
            <FolderOpen aria-hidden="true" size={18} /> Open a pattern…
          </button>
          <p className="hint">
            SVG drawings, several pages at once, a FOLD file, or a saved project. You can also drop them
            anywhere in this window or paste them. Nothing leaves this computer.
          </p>
        </section>
        <Samples />
        <Recent />
        <CautionNote topics={['costume', 'adhesive', 'heat']} />
      </main>
    </div>
  );
}

function Samples() {
  const [list, setList] = useState<readonly Sample[] | null>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let wanted = true;
    samples().then(
      (found) => wanted && setList(found),
      () => wanted && setFailed(true),
    );
    return () => {
      wanted = false;
    };
  }, []);
  if (failed) return <p className="hint">The sample patterns cannot be reached just now.</p>;
  if (!list) return null;
  return (
    <section aria-labelledby="samples-title">
      <h2 id="samples-title">Try one of these</h2>
      <ul className="samples">
        {list.map((sample) => (
          <li key={sample.id} className="sample">
            <img src={sampleAddress(sample.preview)} alt={`The pattern of ${sample.title}`} loading="lazy" />
            <h3>{sample.title}</h3>
            <p>{sample.sentence}</p>
            <div className="buttons">
              {[...new Set(sample.files.map((f) => f.manner))].map((manner) => (
                <button key={manner} type="button" onClick={() => void openSample(sample.id, manner)}>
                  <span className="unseen">{sample.title}: </span>
                  {mannerWords[manner] ?? manner}
                </button>
              ))}
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

const when = (time: number) =>
  new Date(time).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

function Recent() {
  const [cards, setCards] = useState<readonly DocumentCard[]>([]);
  const [leaving, setLeaving] = useState<DocumentCard | null>(null);
  const load = useCallback(() => {
    void recentDocuments().then(setCards);
  }, []);
  useEffect(load, [load]);
  if (cards.length === 0) return null;
  return (
    <section aria-labelledby="recent-title">
      <h2 id="recent-title">Kept in this browser</h2>
      <ul className="recent">
        {cards.map((card) => (
          <li key={card.id} className="recent-card">
            <button type="button" className="recent-open" onClick={() => void openRecent(card.id)}>
              <strong>{card.title}</strong>
              <span className="soft">
                {when(card.savedAt)} · {card.files.join(', ')}
              </span>
            </button>
            <button
              type="button"
              className="icon-button"
              aria-label={`Delete ${card.title}`}
              title={`Delete ${card.title}`}
              onClick={() => setLeaving(card)}
            >
              <Trash2 aria-hidden="true" size={18} />
            </button>
          </li>
        ))}
      </ul>
      {leaving ? (
        <Dialog
          title={`Delete ${leaving.title}?`}
          onClose={() => setLeaving(null)}
          actions={
            <>
              <button
                type="button"
                onClick={() => {
                  setLeaving(null);
                  void deleteRecent(leaving.id).then(load);
                }}
              >
                Delete for good
              </button>
              <button type="button" className="main-action" onClick={() => setLeaving(null)}>
                Keep it
              </button>
            </>
          }
        >
          <p>It is only kept in this browser: once deleted it is gone, unless you saved a project file.</p>
        </Dialog>
      ) : null}
    </section>
  );
}
