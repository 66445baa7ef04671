/**
 * The state chart of the bench: one step per event. Panning (middle button, space bar) is common to all tools; all
 * else is the active tool's. A gesture stays *pressed* until it has moved far enough to be a drag, draws its preview
 * from the state alone, and changes the document once, on release. Escape and a second finger drop it.
 */
import { unreachable } from '../../src/base';
import type { Point } from '../../src/math';
import type { ToolName } from '../document/session';
import { chain } from './chain';
import { draw } from './draw';
import { hand } from './hand';
import { offcut } from './offcut';
import { outline } from './outline';
import { pair } from './pair';
import { isDrag } from './press';
import { select } from './select';
import { tape } from './tape';
import type { BenchEvent, BenchFacts, Gesture, HitKind, ToolEffect, ToolState, ToolTurn } from './types';

/** What one tool adds to the common behaviour. */
export interface Tool {
  /** What lights up under the pointer, and what the keyboard walks along: the first of them. */
  reaches(facts: BenchFacts): readonly HitKind[];
  /** A press and release in one place. `pointer` tells a tap from a click. */
  click(
    state: ToolState,
    press: Extract<Gesture, { name: 'pressed' }>,
    facts: BenchFacts,
  ): readonly ToolEffect[];
  /** The gesture that a press becomes when it is dragged. */
  drag(
    press: Extract<Gesture, { name: 'pressed' }>,
    to: Extract<BenchEvent, { type: 'move' | 'up' }>,
    facts: BenchFacts,
  ): Gesture;
  /** The end of a drag that is not a pan. */
  drop(state: ToolState, facts: BenchFacts): readonly ToolEffect[];
  /** Enter, on the thing at the keyboard cursor. */
  pick(state: ToolState, id: string, shift: boolean, facts: BenchFacts): readonly ToolEffect[];
  /** Enter without a cursor, where it does something else than the Done button. */
  enter?(shift: boolean, facts: BenchFacts): readonly ToolEffect[];
  /** The arrow keys, where they move a pen and not the bench. */
  steer?(by: Point, facts: BenchFacts): readonly ToolEffect[];
  /** Enter without a cursor, or the Done button. */
  finish(state: ToolState, facts: BenchFacts): readonly ToolEffect[];
  removeLast(state: ToolState, facts: BenchFacts): readonly ToolEffect[];
  /** Escape while no gesture is under way. */
  escape(state: ToolState, facts: BenchFacts): readonly ToolEffect[];
}

const tools: Readonly<Record<ToolName, Tool>> = { hand, select, pair, chain, tape, draw, offcut, outline };

const idle: Gesture = { name: 'idle' };

/** A tool at rest. */
export function startTool(tool: ToolName): ToolState {
  return { tool, gesture: idle, before: null, cursor: null, pointerAt: null };
}

/** One event in; the next state and what should happen out. Never throws for any order of events. */
export function stepTool(state: ToolState, event: BenchEvent, facts: BenchFacts): ToolTurn {
  const tool = tools[state.tool];
  switch (event.type) {
    case 'down':
      return press(state, event);
    case 'move':
      return move({ ...state, pointerAt: event.at }, tool, event, facts);
    case 'up':
      return release(state, tool, event, facts);
    case 'doubleClick':
      return { state, effects: doubleClick(state, event, facts) };
    case 'cancel':
      return same({ ...state, gesture: idle });
    case 'leave':
      return {
        state: { ...state, pointerAt: null },
        effects: facts.hovered === null ? [] : [{ kind: 'hover', id: null }],
      };
    case 'walk':
      return walk(state, event.to, facts);
    case 'pick':
      if (state.cursor === null)
        return keep(state, tool.enter?.(event.shift, facts) ?? tool.finish(state, facts), facts);
      return keep(state, tool.pick(state, state.cursor, event.shift, facts), facts);
    case 'steer':
      return keep(state, tool.steer?.(event.by, facts) ?? [], facts);
    case 'finish':
      return keep(state, tool.finish(state, facts), facts);
    case 'removeLast':
      return keep(state, tool.removeLast(state, facts), facts);
    case 'escape':
      if (state.gesture.name !== 'idle') return same({ ...state, gesture: idle });
      return keep({ ...state, cursor: null }, [...dropCursor(state), ...tool.escape(state, facts)], facts);
    case 'tool':
      if (event.tool === state.tool) return same(state);
      return {
        state: { ...startTool(event.tool), cursor: state.cursor, pointerAt: state.pointerAt },
        effects: leaveTool(state, event.tool, facts),
      };
    default:
      return unreachable(event);
  }
}

const same = (state: ToolState): ToolTurn => ({ state, effects: [] });

/** Whoever takes up the pointer has left the keyboard: its cursor goes, so that Enter means "finish" again. */
function press(state: ToolState, event: Extract<BenchEvent, { type: 'down' }>): ToolTurn {
  if (state.gesture.name !== 'idle') return same(state);
  const gesture: Gesture =
    event.button === 'pan'
      ? { name: 'panning', screen: event.screen }
      : {
          name: 'pressed',
          screen: event.screen,
          at: event.at,
          pointer: event.pointer,
          shift: event.shift,
        };
  return {
    state: { ...state, pointerAt: event.at, cursor: null, gesture },
    effects: state.cursor === null ? [] : [{ kind: 'cursor', id: null }],
  };
}

function move(
  state: ToolState,
  tool: Tool,
  event: Extract<BenchEvent, { type: 'move' | 'up' }>,
  facts: BenchFacts,
): ToolTurn {
  const gesture = state.gesture;
  switch (gesture.name) {
    case 'idle':
      return { state, effects: hover(tool, event, facts) };
    case 'pressed': {
      if (!isDrag(gesture, event.screen)) return same(state);
      const next = tool.drag(gesture, event, facts);
      if (next.name !== 'panning') return same({ ...state, gesture: next });
      return move({ ...state, gesture: { name: 'panning', screen: gesture.screen } }, tool, event, facts);
    }
    case 'panning':
      return {
        state: { ...state, gesture: { name: 'panning', screen: event.screen } },
        effects: [
          { kind: 'panBy', dx: event.screen.x - gesture.screen.x, dy: event.screen.y - gesture.screen.y },
        ],
      };
    case 'banding':
      return same({ ...state, gesture: { ...gesture, to: event.at } });
    case 'carrying':
      return same({ ...state, gesture: { ...gesture, to: event.at } });
    case 'taping':
      return same({ ...state, gesture: { ...gesture, to: facts.snap(event.at, gesture.pointer) } });
    default:
      return unreachable(gesture);
  }
}

function hover(
  tool: Tool,
  event: Extract<BenchEvent, { type: 'move' | 'up' }>,
  facts: BenchFacts,
): readonly ToolEffect[] {
  if (event.pointer === 'touch') return [];
  const id = facts.hitAt(event.at, tool.reaches(facts), event.pointer)?.id ?? null;
  return id === facts.hovered ? [] : [{ kind: 'hover', id }];
}

function release(
  state: ToolState,
  tool: Tool,
  event: Extract<BenchEvent, { type: 'move' | 'up' }>,
  facts: BenchFacts,
): ToolTurn {
  const moved = move({ ...state, pointerAt: event.at }, tool, event, facts);
  const at = event.pointer === 'touch' ? null : event.at;
  const rest = { ...moved.state, gesture: idle, pointerAt: at };
  const gesture = moved.state.gesture;
  switch (gesture.name) {
    case 'idle':
      return moved;
    case 'panning':
      return { state: rest, effects: moved.effects };
    case 'pressed':
      return keep(rest, tool.click(moved.state, gesture, facts), facts);
    case 'banding':
    case 'carrying':
    case 'taping':
      return keep(rest, tool.drop(moved.state, facts), facts);
    default:
      return unreachable(gesture);
  }
}

/** A double click takes the whole piece, with the tools that select. */
function doubleClick(
  state: ToolState,
  event: Extract<BenchEvent, { type: 'doubleClick' }>,
  facts: BenchFacts,
): readonly ToolEffect[] {
  if (state.tool !== 'select') return [];
  const hit = facts.hitAt(event.at, facts.selectable, event.pointer);
  if (!hit || hit.piece === null) return [];
  return [{ kind: 'select', ids: [hit.piece], mode: event.shift ? 'add' : 'replace' }];
}

function walk(
  state: ToolState,
  to: Extract<BenchEvent, { type: 'walk' }>['to'],
  facts: BenchFacts,
): ToolTurn {
  const kind = tools[state.tool].reaches(facts)[0] ?? 'edge';
  const id = facts.walk(state.cursor, to, kind);
  if (id === null) {
    return { state, effects: [{ kind: 'announce', text: `There are no ${kind}s on the bench.` }] };
  }
  return {
    state: { ...state, cursor: id },
    effects: [
      { kind: 'cursor', id },
      { kind: 'hover', id },
      { kind: 'announce', text: facts.describe(id) },
    ],
  };
}

const dropCursor = (state: ToolState): readonly ToolEffect[] =>
  state.cursor === null
    ? []
    : [
        { kind: 'cursor', id: null },
        { kind: 'hover', id: null },
      ];

/** What a tool leaves behind when another is taken up. */
function leaveTool(state: ToolState, next: ToolName, facts: BenchFacts): readonly ToolEffect[] {
  const effects: ToolEffect[] = [];
  if (state.before !== null) effects.push({ kind: 'endMerge' });
  if (state.tool === 'pair' && next !== 'pair' && facts.pairFrom !== null) {
    effects.push({ kind: 'pairFrom', edge: null });
  }
  if (state.tool === 'draw' && facts.drawing.points.length > 0)
    effects.push({ kind: 'draw', panel: null, points: [] });
  return effects;
}

/** Remembers the girth as it was when a chain of merged changes begins, and forgets it when the chain ends. */
function keep(state: ToolState, effects: readonly ToolEffect[], facts: BenchFacts): ToolTurn {
  let before = state.before;
  for (const effect of effects) {
    if (effect.kind === 'girth' && effect.merge !== null && before === null) before = facts.girth;
    if (effect.kind === 'endMerge') before = null;
  }
  return { state: { ...state, before }, effects };
}
