/**
 * The bench: the drawing surface in the middle of the page. Fills its container. Everything that can be done on it with
 * a pointer can be done with keys as well; the tables of the steps list the same things in words.
 */
import { useEffect, useRef, useState } from 'react';
import './bench.css';
import { BenchController } from './bench/controller';
import { type Covered, nothingCovered } from './bench/covered';
import { actionLabels, type Hint } from './bench/hint';
import { pagePort } from './bench/port';

export interface BenchProps {
  /** CSS pixels of the bench that other things cover, so that content is fitted into the rest. */
  readonly covered?: Covered;
}

const instructions =
  'Arrow keys move the bench, plus and minus zoom, 0 shows everything. ' +
  'Full stop and comma, or the square brackets, go from edge to edge; Home and End to the first and last. ' +
  'Enter takes the edge for the tool in hand, Shift and Enter finishes, Backspace takes the last one back, Escape drops it. ' +
  'While an offcut or an outline is drawn the arrow keys move the pen by 1 mm, with Shift by 10 mm, and Enter lays a corner.';

export function Bench({ covered }: BenchProps) {
  const surface = useRef<HTMLDivElement>(null);
  const ground = useRef<HTMLCanvasElement>(null);
  const drawing = useRef<HTMLCanvasElement>(null);
  const words = useRef<HTMLCanvasElement>(null);
  const markX = useRef<HTMLDivElement>(null);
  const markY = useRef<HTMLDivElement>(null);
  const controller = useRef<BenchController | null>(null);
  const [hint, setHint] = useState<Hint | null>(null);
  const [said, setSaid] = useState({ text: '', turn: 0 });

  useEffect(() => {
    if (
      !surface.current ||
      !ground.current ||
      !drawing.current ||
      !words.current ||
      !markX.current ||
      !markY.current
    )
      return;
    const bench = new BenchController(
      {
        surface: surface.current,
        canvases: { ground: ground.current, drawing: drawing.current, words: words.current },
        markX: markX.current,
        markY: markY.current,
      },
      pagePort,
      {
        hint: setHint,
        announce: (text) => setSaid((before) => ({ text, turn: before.turn + 1 })),
      },
    );
    controller.current = bench;
    return () => {
      controller.current = null;
      bench.dispose();
    };
  }, []);

  const { left, top, right, bottom } = covered ?? nothingCovered;
  useEffect(() => {
    controller.current?.setCovered({ left, top, right, bottom });
  }, [left, top, right, bottom]);

  return (
    <div className="drawing-bench">
      <div
        ref={surface}
        className="drawing-surface"
        role="application"
        aria-label="Bench"
        aria-roledescription="drawing surface"
        aria-describedby="drawing-instructions"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a drawing surface that is worked with keys
        tabIndex={0}
      >
        <canvas ref={ground} />
        <canvas ref={drawing} />
        <canvas ref={words} />
        <div ref={markX} className="drawing-mark-x" hidden aria-hidden="true" />
        <div ref={markY} className="drawing-mark-y" hidden aria-hidden="true" />
      </div>
      <p id="drawing-instructions" className="drawing-unseen">
        {instructions}
      </p>
      {hint ? (
        <div className="drawing-hint">
          <span>{hint.text}</span>
          {hint.actions.map((action) => (
            <button key={action} type="button" onClick={() => controller.current?.act(action)}>
              {actionLabels[action]}
            </button>
          ))}
        </div>
      ) : null}
      <div className="drawing-unseen" aria-live="polite">
        {/* A new element each time, so that the same words are said again. */}
        <span key={said.turn}>{said.text}</span>
      </div>
    </div>
  );
}
