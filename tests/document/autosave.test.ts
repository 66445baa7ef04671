import { describe, expect, it } from 'vitest';
import { autosaveDelay, startAutosave, type Timer } from '../../app/document/autosave';
import { createEditor } from '../../app/document/editor';
import { type Library, memoryLibrary } from '../../app/document/library';
import { openProject } from '../../src/project';
import { plainDocument } from '../project/arbitrary';

/** A clock that is wound by hand. */
function handTimer() {
  let now = 0;
  let next = 1;
  const due = new Map<number, { at: number; run: () => void }>();
  const timer: Timer = {
    set: (run, delay) => {
      due.set(next, { at: now + delay, run });
      return next++;
    },
    clear: (handle) => void due.delete(handle as number),
    today: () => now,
  };
  return {
    timer,
    async pass(ms: number) {
      now += ms;
      for (const [id, { at, run }] of [...due]) {
        if (at <= now && due.delete(id)) run();
      }
      // Let promises settle.
      for (let i = 0; i < 20; i++) await Promise.resolve();
    },
  };
}

function bench(library: Library = memoryLibrary()) {
  const editor = createEditor(() => 0);
  const clock = handTimer();
  const autosave = startAutosave(editor, library, clock.timer);
  const rename = (title: string) => editor.changeDocument('Rename', (d) => ({ ...d, title }));
  const titleOf = async (id: string) => {
    const opened = openProject((await library.text(id)) ?? '');
    return opened.ok ? opened.value.title : null;
  };
  return { editor, clock, autosave, library, rename, titleOf };
}

describe('autosave', () => {
  it('waits for a pause and then keeps the last state', async () => {
    const { editor, clock, library, rename, titleOf } = bench();
    editor.show(plainDocument, 'd1');
    rename('Helm 1');
    await clock.pass(autosaveDelay - 1);
    rename('Helm 2');
    await clock.pass(autosaveDelay - 1);
    expect(await library.text('d1')).toBeNull();
    expect(editor.session.getState().saved).toBe('unsaved');
    await clock.pass(1);
    expect(await titleOf('d1')).toBe('Helm 2');
    expect(editor.session.getState().saved).toBe('saved');
    expect((await library.cards()).map((c) => [c.id, c.title, c.files])).toEqual([
      ['d1', 'Helm 2', ['gannet-helm.svg']],
    ]);
  });

  it('keeps the one before when another document is opened at once', async () => {
    const { editor, autosave, rename, titleOf } = bench();
    editor.show(plainDocument, 'd1');
    rename('Helm');
    editor.show({ ...plainDocument, title: 'Bracer' }, 'd2');
    await autosave.flush();
    expect(await titleOf('d1')).toBe('Helm');
    expect(await titleOf('d2')).toBe('Bracer');
  });

  it('says that saving failed, keeps the change and tries again with the next one', async () => {
    const inner = memoryLibrary();
    let full = true;
    const { editor, clock, rename, titleOf } = bench({
      ...inner,
      put: (card, text) => (full ? Promise.reject(new Error('full')) : inner.put(card, text)),
    });
    editor.show(plainDocument, 'd1');
    await clock.pass(autosaveDelay);
    expect(editor.session.getState().saved).toBe('failed');
    full = false;
    rename('Helm 2');
    await clock.pass(autosaveDelay);
    expect(editor.session.getState().saved).toBe('saved');
    expect(await titleOf('d1')).toBe('Helm 2');
  });

  it('writes a change made during a write after it', async () => {
    const inner = memoryLibrary();
    let release = () => {};
    let writes = 0;
    const { editor, clock, rename, autosave, titleOf } = bench({
      ...inner,
      put: async (card, text) => {
        if (writes++ === 0) {
          await new Promise<void>((resolve) => {
            release = resolve;
          });
        }
        await inner.put(card, text);
      },
    });
    editor.show(plainDocument, 'd1');
    await clock.pass(autosaveDelay);
    expect(editor.session.getState().saved).toBe('saving');
    rename('Helm 2');
    release();
    await autosave.flush();
    expect(writes).toBe(2);
    expect(await titleOf('d1')).toBe('Helm 2');
    expect(editor.session.getState().saved).toBe('saved');
  });

  it('does not bring a deleted document back', async () => {
    const { editor, autosave, library } = bench();
    editor.show(plainDocument, 'd1');
    autosave.forget('d1');
    await autosave.flush();
    expect(await library.cards()).toEqual([]);
  });
});
