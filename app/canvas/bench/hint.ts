/** The line of help over the bench while a tool with several steps is at work, and the buttons beside it. Pure. */
import { distance } from '../../../src/math';
import type { ToolName } from '../../document/session';
import type { BenchFacts } from '../../tools';

export interface Hint {
  readonly text: string;
  readonly actions: readonly ('removeLast' | 'finish' | 'drop')[];
}

export const actionLabels: Readonly<Record<Hint['actions'][number], string>> = {
  removeLast: 'Remove last',
  finish: 'Done',
  drop: 'Drop',
};

/** Null for the tools that need no word. */
export function hintOf(tool: ToolName, facts: BenchFacts): Hint | null {
  switch (tool) {
    case 'hand':
    case 'select':
      return null;
    case 'pair':
      return facts.pairFrom === null
        ? { text: 'Pick an edge, then its mate', actions: ['finish'] }
        : { text: `${facts.describe(facts.pairFrom)}: now pick its mate`, actions: ['drop'] };
    case 'chain': {
      if (!facts.measurable) return elsewhere;
      if (facts.girth.kind !== 'edges')
        return { text: 'Pick the edges that go round, one after another', actions: ['finish'] };
      const { edges } = facts.girth;
      return {
        text: `Girth ${facts.length(facts.lengthOf(edges))}, ${edges.length === 1 ? '1 edge' : `${edges.length} edges`}`,
        actions: ['removeLast', 'finish'],
      };
    }
    case 'draw': {
      const { panel, points, way, done } = facts.drawing;
      if (panel === null)
        return { text: 'Click where the cut begins, on the outline of a panel', actions: ['finish'] };
      const where = `${points.length === 1 ? '1 point' : `${points.length} points`} on ${facts.panelName(panel)}`;
      const next = way === 'across' ? 'click on, to the outline' : `click where the ${way} ends`;
      return done
        ? { text: `${where}: Done cuts along it`, actions: ['removeLast', 'drop', 'finish'] }
        : { text: `${where}: ${next}`, actions: ['removeLast', 'drop'] };
    }
    case 'offcut': {
      const points = facts.offcut?.points ?? [];
      if (points.length === 0)
        return {
          text: 'Click the first corner of the offcut; rulers and grid are true size',
          actions: ['drop'],
        };
      const corners = points.length === 1 ? '1 corner' : `${points.length} corners`;
      return points.length < 3
        ? { text: `${corners}: click on, round the rim`, actions: ['removeLast', 'drop'] }
        : { text: `${corners}: Done closes it`, actions: ['removeLast', 'drop', 'finish'] };
    }
    case 'outline': {
      if (facts.outline?.places)
        return { text: 'Click where the middle of the shape goes, here or on the shell', actions: ['drop'] };
      const points = facts.outline?.points ?? [];
      if (points.length === 0)
        return { text: 'Click the first corner on a panel, here or on the shell', actions: ['drop'] };
      const corners = points.length === 1 ? '1 corner' : `${points.length} corners`;
      return points.length < 3
        ? { text: `${corners}: click on, round the shape`, actions: ['removeLast', 'drop'] }
        : { text: `${corners}: Done closes it`, actions: ['removeLast', 'drop', 'finish'] };
    }
    case 'tape': {
      if (!facts.measurable) return elsewhere;
      if (facts.girth.kind !== 'tape')
        return { text: 'Drag a tape straight across each piece', actions: ['finish'] };
      const { parts } = facts.girth;
      const sum = parts.reduce((s, [a, b]) => s + distance(a, b), 0);
      return {
        text: `Girth ${facts.length(sum)}, ${parts.length === 1 ? '1 tape' : `${parts.length} tapes`}`,
        actions: ['removeLast', 'finish'],
      };
    }
  }
}

const elsewhere: Hint = {
  text: 'A girth is measured on the drawing: open the Pattern, Seams or Size step',
  actions: ['finish'],
};
