/** Where the pattern's own girth is measured. */
import type { Point } from '../../src/math';
import type { Decisions, FitDecisions } from '../../src/model';
import type { Mm } from '../../src/units';
import { change, command, refuse, withDocument } from './command';
import { selectedEdges } from './selection';

const girth = (d: Decisions, value: FitDecisions['girth']): Decisions => ({
  ...d,
  fit: { ...d.fit, girth: value },
});

/** The selected edges (or those given), one after another, are the girth. */
export const measureChain = command<{ readonly edges?: readonly string[] } | undefined>({
  id: 'measureChain',
  label: () => 'Girth along these edges',
  enabled: (s) => (selectedEdges(s).length > 0 ? true : 'Select the edges that go round the head.'),
  run: (s, args) => {
    const edges = args?.edges ?? selectedEdges(s);
    if (edges.length === 0) return refuse('Select the edges that go round the head.');
    return change('Measure girth along edges', (d) => girth(d, { kind: 'edges', edges: [...edges] }));
  },
});

/** Straight stretches of the tape across pieces, in drawing mm; together they are the girth. */
export const layTape = command<{ readonly parts: readonly (readonly [Point, Point])[] }>({
  id: 'layTape',
  label: () => 'Girth by tape',
  enabled: withDocument,
  run: (_s, { parts }) =>
    parts.length === 0
      ? refuse('Draw the tape across at least one piece.')
      : change('Measure girth by tape', (d) => girth(d, { kind: 'tape', parts })),
});

export const typeGirth = command<{ readonly length: Mm; readonly merge?: string }>({
  id: 'typeGirth',
  label: () => 'Type the girth',
  enabled: withDocument,
  run: (_s, { length, merge }) =>
    length > 0 && Number.isFinite(length)
      ? change(
          'Type the pattern’s girth',
          (d) => girth(d, { kind: 'typed', length }),
          merge === undefined ? {} : { merge },
        )
      : refuse('A girth is longer than nothing.'),
});

export const clearGirth = command({
  id: 'clearGirth',
  label: () => 'Forget the girth',
  enabled: (s) =>
    s.document && s.document.decisions.fit.girth.kind !== 'none' ? true : 'No girth is measured.',
  run: () => change('Forget the girth', (d) => girth(d, { kind: 'none' })),
});
