/** The sole right of this window to a document, through the browser's lock manager where there is one. */

export interface Hold {
  hold(id: string): Promise<boolean>;
  release(): void;
}

/** A reloading page may meet its own former self for a moment; longer than this it is another window. */
const patience = 1500;

export function browserHold(): Hold {
  let letGo: (() => void) | null = null;
  return {
    hold(id) {
      const locks = globalThis.navigator?.locks;
      if (!locks) return Promise.resolve(true);
      return new Promise((resolve) => {
        const asked = locks.request(
          `girthwise.document.${id}`,
          { signal: AbortSignal.timeout(patience) },
          () =>
            new Promise<void>((done) => {
              letGo = done;
              resolve(true);
            }),
        );
        asked.catch(() => resolve(false));
      });
    },
    release() {
      letGo?.();
      letGo = null;
    },
  };
}
