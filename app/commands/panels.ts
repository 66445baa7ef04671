/** Splitting and joining panels. Every edit is kept in the document's list, in order, and replayed on what is there. */
import {
  type Decisions,
  type PanelDecisions,
  type PanelEdit,
  type PanelLimits,
  type ProposalKind,
  type Seam,
  sourceLineId,
} from '../../src/model';
import { type JoinPlan, planJoin, uprightWords } from '../../src/panels';
import type { Mm } from '../../src/units';
import { dropProposal, propose, type Session, shownIn } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { selectedFolds, selectedPieces, selectedSeams } from './selection';

export const panels = (d: Decisions, part: Partial<PanelDecisions>): Decisions => ({
  ...d,
  panels: { ...d.panels, ...part },
});

/** A new edit at the end of the list; its id counts on from the highest. */
export const withEdit = (d: Decisions, edit: (id: string) => PanelEdit): Decisions => {
  const { edits } = d.panels;
  const most = edits.reduce((n, e) => Math.max(n, Number(e.id.replace(/^e/, '')) || 0), 0);
  return panels(d, { edits: [...edits, edit(`e${most + 1}`)] });
};

const foldReason = 'Select a fold first, or several that follow each other.';

/** The selected folds (or those given) become seams. */
export const splitPanels = command<{ readonly folds?: readonly string[] } | undefined>({
  id: 'splitPanels',
  label: (s) => (selectedFolds(s).length > 1 ? 'Split along these folds' : 'Split along this fold'),
  keys: ['x'],
  enabled: (s) => {
    if (s.step !== 'panels') return 'Panels are split in the Panels step.';
    return selectedFolds(s).length > 0 ? true : foldReason;
  },
  run: (s, args) => {
    const folds = args?.folds ?? selectedFolds(s);
    if (folds.length === 0) return refuse(foldReason);
    return change(folds.length > 1 ? 'Split along folds' : 'Split along a fold', (d) =>
      withEdit(d, (id) => ({ kind: 'cut', id, lines: folds.map(sourceLineId) })),
    );
  },
});

const joinReason = 'Select a seam between two panels, or the two panels.';

/** Seams that a join would close: those of the selected runs, or all between the selected panels. */
export function seamsToJoin(s: Session): readonly Seam[] {
  const { seams } = shownIn(s);
  if (!seams) return [];
  const runOf = new Map(seams.runs.flatMap((run) => run.seams.map((id) => [id, run.id] as const)));
  const chosen = selectedSeams(s);
  if (chosen.length > 0) {
    const runs = new Set(chosen.map((x) => runOf.get(x.id) ?? x.id));
    return seams.seams.filter((x) => runs.has(runOf.get(x.id) ?? x.id));
  }
  const among = new Set(selectedPieces(s));
  if (among.size < 2) return [];
  return seams.seams.filter((x) => x.a.piece !== x.b.piece && among.has(x.a.piece) && among.has(x.b.piece));
}

/** What joining across these seams would do; null while there is nothing to join. */
export function joinPlan(
  { results, document }: Pick<Session, 'results' | 'document'>,
  seams: readonly string[],
): JoinPlan | null {
  const { pattern, seams: drawn } = results;
  if (!pattern || !drawn || !document || seams.length === 0) return null;
  const plan = planJoin(pattern, drawn, document.decisions.panels, seams);
  return plan.close.length > 0 ? plan : null;
}

/** The selected seam (or those given, or the seams between the selected panels) become folds. */
export const joinPanels = command<{ readonly seams?: readonly string[] } | undefined>({
  id: 'joinPanels',
  label: (s) => (selectedPieces(s).length > 1 ? 'Join these panels' : 'Join across this seam'),
  keys: ['j'],
  enabled: (s) => {
    if (s.step !== 'panels') return 'Panels are joined in the Panels step.';
    return seamsToJoin(s).length > 0 ? true : joinReason;
  },
  run: (s, args) => {
    const seams = args?.seams ?? seamsToJoin(s).map((x) => x.id);
    if (seams.length === 0) return refuse(joinReason);
    const plan = joinPlan(s, seams);
    if (plan?.upright) return refuse(`This seam stays a seam, because ${uprightWords(plan.upright)}.`);
    return change(
      plan && plan.close.length < seams.length ? 'Join panels with a relief dart' : 'Join panels',
      (d) => withEdit(d, (id) => ({ kind: 'join', id, lines: plan?.close ?? seams.map(sourceLineId) })),
    );
  },
});

/** Takes one edit out of the list; those after it are replayed without it. */
export const takeOutEdit = command<{ readonly edit: string }>({
  id: 'takeOutEdit',
  label: () => 'Take this edit out',
  enabled: withDocument,
  run: (_s, { edit }) =>
    change('Take an edit of panels out', (d) =>
      panels(d, { edits: d.panels.edits.filter((e) => e.id !== edit) }),
    ),
});

/** Back to the pieces as they were drawn. */
export const takeOutAllEdits = command({
  id: 'takeOutAllEdits',
  label: () => 'Back to the pieces as drawn',
  enabled: (s) =>
    (s.document?.decisions.panels.edits.length ?? 0) > 0 ? true : 'The panels are the pieces as drawn.',
  run: () => change('Back to the pieces as drawn', (d) => panels(d, { edits: [] })),
});

const proposalReason = 'Nothing is proposed.';

/** The proposal, while it still belongs to the edits that are there. */
export function currentProposal(s: Session) {
  const { proposal, document } = s;
  return proposal && document?.decisions.panels.edits === proposal.on ? proposal.made : null;
}

/** Looks for cuts or joins; nothing changes until the proposal is accepted. */
export const proposePanels = command<{ readonly kind: ProposalKind }>({
  id: 'proposePanels',
  label: () => 'Propose panels',
  enabled: withDocument,
  run: (_s, { kind }) => effect(() => void propose(kind)),
});

const acceptLabels: Readonly<Record<ProposalKind, string>> = {
  splits: 'Split where foam can’t follow',
  slits: 'Slit where foam bends doubly',
  joins: 'Join to fewest panels',
  anew: 'Join to fewest panels',
};

/** All cuts and joins of the proposal as one step. */
export const acceptProposal = command({
  id: 'acceptProposal',
  label: () => 'Accept the proposal',
  enabled: (s) => (currentProposal(s) ? true : proposalReason),
  run: (s) => {
    const made = currentProposal(s);
    if (!made) return refuse(proposalReason);
    return change(
      acceptLabels[made.kind],
      (d) => made.edits.reduce((all, edit) => withEdit(all, (id) => ({ ...edit, id })), d),
      { select: [] },
    );
  },
});

export const discardProposal = command({
  id: 'discardProposal',
  label: () => 'Discard the proposal',
  enabled: (s) => (currentProposal(s) ? true : proposalReason),
  run: () => effect(dropProposal),
});

/** What foam can follow. */
export const setPanelLimits = command<{ readonly limits: Partial<PanelLimits>; readonly merge?: string }>({
  id: 'setPanelLimits',
  label: () => 'What foam can follow',
  enabled: withDocument,
  run: (_s, { limits, merge }) =>
    change(
      'What foam can follow',
      (d) => panels(d, { limits: { ...d.panels.limits, ...limits } }),
      merge === undefined ? {} : { merge },
    ),
});

/** Outlines of gently bent seams as curves, or straight from corner to corner. */
export const smoothOutlines = command<{ readonly smooth: boolean } | undefined>({
  id: 'smoothOutlines',
  label: (s) => (s.document?.decisions.panels.smooth ? 'Leave outlines straight' : 'Smooth outlines'),
  enabled: withDocument,
  run: (s, args) => {
    const smooth = args?.smooth ?? !s.document?.decisions.panels.smooth;
    return change(smooth ? 'Smooth outlines' : 'Leave outlines straight', (d) => panels(d, { smooth }));
  },
});

/** Panels that are mirror images of each other within so many mm are drawn once; 0: each has its own template. */
export const pairPanels = command<{ readonly within: Mm; readonly merge?: string }>({
  id: 'pairPanels',
  label: () => 'Draw mirror pairs once',
  enabled: withDocument,
  run: (_s, { within, merge }) =>
    within >= 0 && Number.isFinite(within)
      ? change(
          within > 0 ? 'Draw mirror pairs once' : 'Draw every panel',
          (d) => panels(d, { pairWithin: within }),
          merge === undefined ? {} : { merge },
        )
      : refuse('A tolerance is no less than nothing.'),
});
