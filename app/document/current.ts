/** The page's one editor, and the hook that screens read it with. */
import { useStore } from 'zustand';
import { createEditor } from './editor';
import { rememberedSingleKeys, rememberedTheme } from './preferences';
import type { Session } from './session';

export const editor = createEditor(() => performance.now(), {
  theme: rememberedTheme(),
  singleKeys: rememberedSingleKeys(),
});

/**
 * Part of the session, kept up to date. The selector must return a stored part (or a primitive), not a new object on
 * every call; wrap it in zustand's `useShallow` when it has to build one.
 */
export function useSession<T>(selector: (session: Session) => T): T {
  return useStore(editor.session, selector);
}
