import type { Issue } from '../base';
import type { ExtraPart, LaidOnShell, PanelGuide, StandingOnShell } from '../model';
import type { FlatPart } from './asPanel';

/** What a part became: flat parts, lines on the panels below them, or the reason why it could not be made. */
export interface MadePart {
  readonly flats: readonly FlatPart[];
  /** Lines on other panels, by panel id. */
  readonly guides: ReadonlyMap<string, readonly PanelGuide[]>;
  readonly issues: readonly Issue[];
  readonly stuck: boolean;
  /** Where it lies on the faces of the shell; absent for what does not lie on faces. */
  readonly onShell?: readonly LaidOnShell[];
  /** Where it stands at the shell's final size; absent for what lies on faces, or is cut for itself. */
  readonly standing?: readonly StandingOnShell[];
}

export const made = (flats: readonly FlatPart[], issues: readonly Issue[] = []): MadePart => ({
  flats,
  guides: new Map(),
  issues,
  stuck: false,
});

/** A part that can't be made from what is there now. */
export const stuck = (part: ExtraPart, why: string, wayOut: string): MadePart => ({
  flats: [],
  guides: new Map(),
  issues: [finding('extra-stuck', 'warning', part, `“${part.name}” can’t be made: ${why}.`, wayOut)],
  stuck: true,
});

export const finding = (
  code: string,
  severity: Issue['severity'],
  part: ExtraPart,
  message: string,
  remedy: string,
): Issue => ({ code, severity, stage: 'panels', message, remedy, place: { ids: [part.id] } });
