/** Carries out what a tool asks for. */
import { unreachable } from '../../../src/base';
import type { ToolEffect } from '../../tools';
import type { Hint } from './hint';
import type { BenchPort } from './port';

/** What the bench shows outside its canvases. */
export interface BenchHooks {
  hint(hint: Hint | null): void;
  announce(text: string): void;
}

export interface EffectTarget {
  readonly port: BenchPort;
  readonly hooks: BenchHooks;
  panBy(dx: number, dy: number): void;
  showCursor(id: string | null): void;
}

export function applyEffect(effect: ToolEffect, target: EffectTarget): void {
  const { port, hooks } = target;
  switch (effect.kind) {
    case 'panBy':
      target.panBy(effect.dx, effect.dy);
      break;
    case 'hover':
      port.hover(effect.id);
      break;
    case 'select':
      port.select(effect.ids, effect.mode);
      break;
    case 'pairFrom':
      port.setPairFrom(effect.edge);
      break;
    case 'pair': {
      const refusal = port.pair(effect.a, effect.b);
      if (refusal !== null) hooks.announce(refusal);
      break;
    }
    case 'girth':
      port.decideGirth(effect.label, effect.girth, effect.merge);
      break;
    case 'draw':
      port.layLine(effect.panel, effect.points);
      break;
    case 'cutDrawn': {
      const refusal = port.cutDrawn();
      if (refusal !== null) hooks.announce(refusal);
      break;
    }
    case 'offcut':
      port.layCorners(effect.points, effect.pen);
      break;
    case 'keepOffcut': {
      const refusal = port.keepOffcut();
      if (refusal !== null) hooks.announce(refusal);
      break;
    }
    case 'outlineAt': {
      const before = port.state().outline?.points.length ?? 0;
      const refusal = port.layOutline(effect.at);
      const now = port.state().outline?.points.length;
      if (refusal !== null) hooks.announce(refusal);
      else hooks.announce(now === undefined ? 'Placed.' : now > before ? `Corner ${now} laid.` : '');
      break;
    }
    case 'outlinePen':
      port.moveOutlinePen(effect.pen);
      break;
    case 'outlineBack':
      port.outlineBack();
      hooks.announce('Last corner taken back.');
      break;
    case 'keepOutline': {
      const refusal = port.keepOutline();
      hooks.announce(refusal ?? 'Outline closed.');
      break;
    }
    case 'carry': {
      const said = port.carry(effect.id, effect.by);
      if (said !== null) hooks.announce(said);
      break;
    }
    case 'endMerge':
      port.endMerge();
      break;
    case 'tool':
      port.setTool(effect.tool);
      break;
    case 'cursor':
      target.showCursor(effect.id);
      break;
    case 'announce':
      hooks.announce(effect.text);
      break;
    default:
      unreachable(effect);
  }
}
