import { type Session, session } from '../document';

/** Keeps `data-theme` on the root element at the theme in force: the person's, else the system's. */
export function followTheme(): void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const apply = (theme: Session['theme']) => {
    const inForce = theme === 'system' ? (dark.matches ? 'dark' : 'light') : theme;
    document.documentElement.dataset.theme = inForce;
  };
  apply(session.getState().theme);
  dark.addEventListener('change', () => apply(session.getState().theme));
  session.subscribe((now, before) => {
    if (now.theme !== before.theme) apply(now.theme);
  });
}
