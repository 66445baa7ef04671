import type { Pattern } from '../../../src/model';
import type { Figure } from '../../ui/parts';

/** The reading report in figures. Pure. */
export function readingFigures(pattern: Pattern): Figure[] {
  const folds = pattern.pieces.flatMap((piece) => piece.folds);
  const of = (role: 'mountain' | 'valley' | 'unknown') => folds.filter((fold) => fold.role === role).length;
  const tabs = pattern.pieces.flatMap((piece) => piece.tabs);
  const kept = tabs.filter((tab) => tab.kept).length;
  const unread = pattern.unread.length;
  return [
    { label: 'Pieces', value: pattern.pieces.length },
    { label: 'Faces', value: pattern.pieces.reduce((n, piece) => n + piece.faces.length, 0) },
    {
      label: 'Folds',
      value: folds.length,
      ...(folds.length > 0
        ? { note: `${of('mountain')} mountain, ${of('valley')} valley, ${of('unknown')} unknown` }
        : {}),
    },
    { label: 'Tabs', value: tabs.length, ...(kept > 0 ? { note: `${kept} kept` } : {}) },
    { label: 'Numbers', value: pattern.labels.length },
    {
      label: 'Not understood',
      value: unread,
      ...(unread > 0 ? { note: 'lines to look at', look: true } : {}),
    },
  ];
}
