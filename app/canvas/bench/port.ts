/** The bench's door to the rest of the page: what it reads, and everything that it may change. */

import type { Point } from '../../../src/math';
import type { FitDecisions } from '../../../src/model';
import { type BenchHandlers, registerBench, runCommand } from '../../commands';
import { decide, endMerge, hover, type Session, select, session, setPairFrom, setTool } from '../../document';
import { carryOnSheets, nudgeOnSheets } from './carry';

export interface BenchPort {
  state(): Session;
  subscribe(listener: (now: Session, before: Session) => void): () => void;
  select: typeof select;
  hover: typeof hover;
  setPairFrom: typeof setPairFrom;
  setTool: typeof setTool;
  endMerge: typeof endMerge;
  decideGirth(label: string, girth: FitDecisions['girth'], merge: string | null): void;
  /** Pairs two edges; the reason when it can't be done. */
  pair(a: string, b: string): string | null;
  /** The points of a line that is being drawn. */
  layLine(panel: string | null, points: readonly Point[]): void;
  /** Cuts along it; the reason when it can't be done. */
  cutDrawn(): string | null;
  /** The corners of an offcut that is being drawn, and where its pen stands. */
  layCorners(points: readonly Point[], pen: Point): void;
  /** Takes it among the sheets; the reason when it can't be done. */
  keepOffcut(): string | null;
  /** Lays a corner of an outline, or places a shape; the reason when it can't be done. */
  layOutline(at: Point): string | null;
  moveOutlinePen(pen: Point): void;
  outlineBack(): void;
  /** Makes a part of it; the reason when it can't be done. */
  keepOutline(): string | null;
  /** Moves a panel on its sheet; what is said of it. */
  carry(id: string, by: Point): string | null;
  /** The same for what is selected, in small steps that are one entry of the history. */
  nudge(by: Point): string | null;
  register(handlers: BenchHandlers): () => void;
}

/** The page's own session and commands. */
export const pagePort: BenchPort = {
  state: () => session.getState(),
  subscribe: (listener) => session.subscribe(listener),
  select,
  hover,
  setPairFrom,
  setTool,
  endMerge,
  decideGirth: (label, girth, merge) =>
    decide(
      label,
      (d) => ({ ...d, fit: { ...d.fit, girth } }),
      merge === null ? {} : { merge, lasting: true },
    ),
  pair: (a, b) => {
    const outcome = runCommand('pairEdges', { a, b });
    return outcome.done ? null : outcome.reason;
  },
  layLine: (panel, points) => void runCommand('layLine', { panel, points }),
  cutDrawn: () => {
    const outcome = runCommand('cutDrawn');
    return outcome.done ? null : outcome.reason;
  },
  layCorners: (points, pen) => void runCommand('layCorners', { points, pen }),
  keepOffcut: () => {
    const outcome = runCommand('keepOffcut');
    return outcome.done ? null : outcome.reason;
  },
  layOutline: (at) => {
    const outcome = runCommand('layOutlineAt', { at });
    return outcome.done ? null : outcome.reason;
  },
  moveOutlinePen: (pen) => void runCommand('moveOutlinePen', { pen }),
  outlineBack: () => void runCommand('outlineBack'),
  keepOutline: () => {
    const outcome = runCommand('keepOutline');
    return outcome.done ? null : outcome.reason;
  },
  carry: carryOnSheets,
  nudge: nudgeOnSheets,
  register: registerBench,
};
