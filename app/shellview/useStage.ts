import { type RefObject, useEffect, useState } from 'react';
import { createStage, type Stage } from './stage';
import { type ShellTheme, shellTheme } from './theme';

/** The stage in an element; `none`: this browser draws no 3D, or stopped to. */
export function useStage(place: RefObject<HTMLElement | null>): Stage | 'none' | null {
  const [stage, setStage] = useState<Stage | 'none' | null>(null);
  useEffect(() => {
    if (!place.current) return;
    const made = createStage(place.current, () => setStage('none'));
    setStage(made ?? 'none');
    return () => {
      made?.dispose();
      setStage(null);
    };
  }, [place]);
  return stage;
}

/** Size of an element in CSS pixels. */
export function useSize(place: RefObject<HTMLElement | null>): { width: number; height: number } {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useEffect(() => {
    const element = place.current;
    if (!element) return;
    const measure = () => setSize({ width: element.clientWidth, height: element.clientHeight });
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    return () => watch.disconnect();
  }, [place]);
  return size;
}

const readTheme = () => {
  const style = getComputedStyle(document.documentElement);
  return shellTheme((name) => style.getPropertyValue(name));
};

/** The colours of the theme in force. */
export function useShellTheme(): ShellTheme {
  const [theme, setTheme] = useState(readTheme);
  useEffect(() => {
    const watch = new MutationObserver(() => setTheme(readTheme()));
    watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    return () => watch.disconnect();
  }, []);
  return theme;
}

/** Whether the person asked for less motion. */
export function useCalm(): boolean {
  const [calm, setCalm] = useState(() => matchMedia('(prefers-reduced-motion: reduce)').matches);
  useEffect(() => {
    const query = matchMedia('(prefers-reduced-motion: reduce)');
    const follow = () => setCalm(query.matches);
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  return calm;
}
