/** What the bench has to follow outside itself: its size, the screen, theme, typeface, and the wish for calm. */

export interface Watchers {
  resized(): void;
  themed(): void;
  fontsCame(): void;
  calm(wanted: boolean): void;
}

/** Starts watching; `calm` is told at once. The function returned stops it all. */
export function watchSurroundings(surface: HTMLElement, watchers: Watchers): () => void {
  const aborter = new AbortController();
  const options = { signal: aborter.signal };
  const motion = matchMedia('(prefers-reduced-motion: reduce)');
  watchers.calm(motion.matches);
  motion.addEventListener('change', () => watchers.calm(motion.matches), options);

  const sizes = new ResizeObserver(() => watchers.resized());
  sizes.observe(surface);
  const stopRatio = watchPixelRatio(() => watchers.resized());

  const themes = new MutationObserver(() => watchers.themed());
  themes.observe(document.documentElement, {
    attributes: true,
    attributeFilter: ['data-theme', 'class', 'style'],
  });
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => watchers.themed(), options);
  document.fonts.addEventListener('loadingdone', () => watchers.fontsCame(), options);

  return () => {
    aborter.abort();
    sizes.disconnect();
    themes.disconnect();
    stopRatio();
  };
}

/** Calls back when the page moves to a screen with another pixel ratio, or the browser's own zoom changes. */
function watchPixelRatio(changed: () => void): () => void {
  let stop = () => {};
  const watch = () => {
    const query = matchMedia(`(resolution: ${devicePixelRatio}dppx)`);
    const again = () => {
      stop();
      watch();
      changed();
    };
    query.addEventListener('change', again);
    stop = () => query.removeEventListener('change', again);
  };
  watch();
  return () => stop();
}
