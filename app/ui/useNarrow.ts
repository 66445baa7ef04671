import { useSyncExternalStore } from 'react';

/** Where the sheet and the findings lie over the bench; the same width as in work.css. */
const query = '(max-width: 720px)';

/** Is the window as narrow as a phone? Follows it when it changes. */
export function useNarrow(): boolean {
  return useSyncExternalStore(
    (changed) => {
      const media = matchMedia(query);
      media.addEventListener('change', changed);
      return () => media.removeEventListener('change', changed);
    },
    () => matchMedia(query).matches,
  );
}
