import type { ToolEffect } from './types';

/** Said when a girth is asked for where the scene is not the drawing at its own size. */
export const onlyOnTheDrawing: readonly ToolEffect[] = [
  { kind: 'announce', text: 'A girth is measured on the drawing: open the Pattern, Seams or Size step.' },
];
