/** What a key means while the bench has the focus. Pure. Keys that are not named here stay with the page. */
import type { ToolName } from '../../document/session';
import type { BenchEvent } from '../../tools';

export interface BenchKeyPress {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
}

/** What Escape and Backspace would find to do. */
export interface BenchKeyState {
  readonly tool: ToolName;
  readonly pairing: boolean;
  /** A gesture is under way, or the keyboard cursor stands somewhere. */
  readonly busy: boolean;
  readonly selecting: boolean;
  /** What is selected can be moved by the arrow keys. */
  readonly moving: boolean;
}

export type KeyAnswer =
  | { readonly kind: 'event'; readonly event: BenchEvent }
  | { readonly kind: 'pan'; readonly dx: number; readonly dy: number }
  /** Move what is selected by so many mm, y up. */
  | { readonly kind: 'nudge'; readonly by: { readonly x: number; readonly y: number } }
  /** The space bar went down: a drag moves the bench until it comes up. */
  | { readonly kind: 'hold' };

/** Pixels per press of an arrow key, and with Shift. */
const arrowStep = { plain: 48, shift: 192 } as const;

/** Millimetres that a press of an arrow key moves what is selected or the pen, and with Shift. */
const nudgeStep = { plain: 1, shift: 10 } as const;

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [1, 0],
  ArrowRight: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

const walks: Readonly<Record<string, Extract<BenchEvent, { type: 'walk' }>['to']>> = {
  ']': 'next',
  '.': 'next',
  '[': 'previous',
  ',': 'previous',
  Home: 'first',
  End: 'last',
};

export function keyAnswer(press: BenchKeyPress, state: BenchKeyState): KeyAnswer | null {
  // Brackets are typed with Ctrl+Alt (AltGr) on many keyboards.
  const bracket = press.key === '[' || press.key === ']';
  if (press.metaKey || (!bracket && (press.ctrlKey || press.altKey))) return null;
  const arrow = arrows[press.key];
  const step = press.shiftKey ? nudgeStep.shift : nudgeStep.plain;
  // No minus zero.
  const by = arrow && { x: 0 - arrow[0] * step, y: 0 + arrow[1] * step };
  if (by && (state.tool === 'offcut' || state.tool === 'outline'))
    return { kind: 'event', event: { type: 'steer', by } };
  if (by && state.moving) return { kind: 'nudge', by };
  if (arrow) {
    const far = press.shiftKey ? arrowStep.shift : arrowStep.plain;
    return { kind: 'pan', dx: arrow[0] * far, dy: arrow[1] * far };
  }
  const walk = walks[press.key];
  if (walk) return { kind: 'event', event: { type: 'walk', to: walk } };
  const shift = press.shiftKey;
  switch (press.key) {
    case ' ':
      return { kind: 'hold' };
    case 'Enter':
      return { kind: 'event', event: { type: 'pick', shift } };
    case 'Backspace':
    case 'Delete': {
      const laying = ['chain', 'tape', 'draw', 'offcut', 'outline'].includes(state.tool);
      return laying || state.pairing ? { kind: 'event', event: { type: 'removeLast', shift } } : null;
    }
    case 'Escape': {
      const special = state.tool !== 'select' && state.tool !== 'hand';
      return state.busy || state.pairing || special || state.selecting
        ? { kind: 'event', event: { type: 'escape', shift } }
        : null;
    }
    default:
      return null;
  }
}
