/** A bench of four edges, 100 mm apart on the x axis, with a store that applies the effects of the tools. */

import { type DrawnDraft, noDrawing, type OffcutDraft, type ToolName } from '../../app/document/session';
import {
  type BenchEvent,
  type BenchFacts,
  type Girth,
  type PointerKind,
  startTool,
  stepTool,
  type ToolEffect,
  type ToolState,
} from '../../app/tools';
import type { Point } from '../../src/math';

const edges = ['e1', 'e2', 'e3', 'e4'] as const;
const xOf = (id: string) => edges.indexOf(id as (typeof edges)[number]) * 100;

const freshOffcut: OffcutDraft = {
  ...{ thickness: 5, material: '', changes: null },
  ...{ points: [], pen: { x: 0, y: 0 } },
};

export class FakeBench {
  state: ToolState;
  selection: readonly string[] = [];
  hovered: string | null = null;
  pairFrom: string | null = null;
  girth: Girth = { kind: 'none' };
  drawing: DrawnDraft = noDrawing;
  offcut: OffcutDraft | null = null;
  /** Offcuts that were closed. */
  readonly kept: OffcutDraft[] = [];
  /** Lines that were cut. */
  readonly drawn: DrawnDraft[] = [];
  measurable = true;
  readonly pairs: [string, string][] = [];
  readonly said: string[] = [];
  readonly done: ToolEffect[] = [];
  /** Girth changes that would be entries of the history: merged ones count once until `endMerge`. */
  entries = 0;
  private merging: string | null = null;
  panned = { x: 0, y: 0 };

  constructor(tool: ToolName) {
    this.state = startTool(tool);
    if (tool === 'offcut') this.offcut = freshOffcut;
  }

  facts(): BenchFacts {
    return {
      selection: this.selection,
      hovered: this.hovered,
      pairFrom: this.pairFrom,
      girth: this.girth,
      drawing: this.drawing,
      offcut: this.offcut,
      outline: null,
      onGrid: (at) => ({ x: Math.round(at.x / 10) * 10 + 0, y: Math.round(at.y / 10) * 10 + 0 }),
      isNear: (a, b) => Math.hypot(a.x - b.x, a.y - b.y) <= 8,
      // The outline is the two long sides of the one piece, at y = ±50.
      rimAt: (at) =>
        at.x >= 0 && at.x <= 300 && Math.abs(Math.abs(at.y) - 50) <= 8
          ? { panel: 'piece', at: { x: at.x, y: Math.sign(at.y) * 50 } }
          : null,
      panelName: () => 'panel A',
      measurable: this.measurable,
      hitAt: (at, kinds, pointer) => {
        const reach = pointer === 'touch' ? 12 : 6;
        const edge = edges.find((e) => Math.abs(xOf(e) - at.x) <= reach && Math.abs(at.y) <= 50);
        if (edge && kinds.includes('edge')) return { kind: 'edge', id: edge, piece: 'piece' };
        const onPiece = at.x >= 0 && at.x <= 300 && Math.abs(at.y) <= 50;
        return onPiece && kinds.includes('piece') ? { kind: 'piece', id: 'piece', piece: 'piece' } : null;
      },
      movable: false,
      several: false,
      selectable: ['edge', 'fold', 'piece'],
      within: (from, to) =>
        edges.filter(
          (e) =>
            Math.min(from.x, to.x) <= xOf(e) &&
            xOf(e) <= Math.max(from.x, to.x) &&
            Math.min(from.y, to.y) <= -50 &&
            Math.max(from.y, to.y) >= 50,
        ),
      snap: (at) => {
        const corner = edges
          .flatMap((e): Point[] => [
            { x: xOf(e), y: -50 },
            { x: xOf(e), y: 50 },
          ])
          .find((c) => Math.hypot(c.x - at.x, c.y - at.y) <= 8);
        return corner ?? at;
      },
      walk: (from, to) => {
        const i = (edges as readonly (string | null)[]).indexOf(from);
        if (to === 'first') return edges[0];
        if (to === 'last') return edges[3];
        const n = edges.length;
        return edges[i < 0 ? (to === 'next' ? 0 : n - 1) : (i + (to === 'next' ? 1 : n - 1)) % n] ?? null;
      },
      endsOf: (id) => [
        { x: xOf(id), y: -50 },
        { x: xOf(id), y: 50 },
      ],
      describe: (id) => `Edge ${id}`,
      length: (mm) => `${mm} mm`,
      lengthOf: (ids) => ids.length * 100,
    };
  }

  send(event: BenchEvent): this {
    const turn = stepTool(this.state, event, this.facts());
    this.state = turn.state;
    for (const effect of turn.effects) this.apply(effect);
    return this;
  }

  private apply(effect: ToolEffect): void {
    this.done.push(effect);
    if (effect.kind === 'panBy') this.panned = { x: this.panned.x + effect.dx, y: this.panned.y + effect.dy };
    if (effect.kind === 'hover') this.hovered = effect.id;
    if (effect.kind === 'pairFrom') this.pairFrom = effect.edge;
    if (effect.kind === 'pair') this.pairs.push([effect.a, effect.b]);
    if (effect.kind === 'announce') this.said.push(effect.text);
    if (effect.kind === 'endMerge') this.merging = null;
    if (effect.kind === 'draw')
      this.drawing = { ...this.drawing, panel: effect.panel, points: effect.points };
    if (effect.kind === 'offcut' && this.offcut)
      this.offcut = { ...this.offcut, points: effect.points, pen: effect.pen };
    if (effect.kind === 'keepOffcut' && this.offcut) {
      this.kept.push(this.offcut);
      this.offcut = null;
      this.send({ type: 'tool', tool: 'select' });
    }
    if (effect.kind === 'tool') this.offcut = effect.tool === 'offcut' ? freshOffcut : null;
    if (effect.kind === 'cutDrawn') {
      this.drawn.push(this.drawing);
      this.drawing = noDrawing;
    }
    if (effect.kind === 'girth') {
      if (effect.merge === null || effect.merge !== this.merging) this.entries++;
      this.merging = effect.merge;
      this.girth = effect.girth;
    }
    if (effect.kind === 'tool') this.send({ type: 'tool', tool: effect.tool });
    if (effect.kind === 'select') {
      const { ids, mode } = effect;
      if (mode === 'replace') this.selection = ids;
      if (mode === 'add') this.selection = [...new Set([...this.selection, ...ids])];
      if (mode === 'toggle')
        this.selection = [
          ...this.selection.filter((s) => !ids.includes(s)),
          ...ids.filter((s) => !this.selection.includes(s)),
        ];
    }
  }

  down(x: number, y = 0, more: { shift?: boolean; pan?: boolean; pointer?: PointerKind } = {}): this {
    return this.send({
      type: 'down',
      screen: { x, y },
      at: { x, y },
      pointer: more.pointer ?? 'mouse',
      button: more.pan ? 'pan' : 'primary',
      shift: more.shift ?? false,
    });
  }

  move(x: number, y = 0, pointer: PointerKind = 'mouse'): this {
    return this.send({ type: 'move', screen: { x, y }, at: { x, y }, pointer, shift: false });
  }

  up(x: number, y = 0, pointer: PointerKind = 'mouse'): this {
    return this.send({ type: 'up', screen: { x, y }, at: { x, y }, pointer, shift: false });
  }

  click(x: number, y = 0, more: { shift?: boolean; pointer?: PointerKind } = {}): this {
    return this.down(x, y, more).up(x, y, more.pointer ?? 'mouse');
  }

  key(type: 'pick' | 'finish' | 'removeLast' | 'escape', shift = false): this {
    return this.send({ type, shift });
  }
}
