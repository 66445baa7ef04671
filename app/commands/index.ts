/**
 * All commands. `runCommand('undo')`, `runCommand('setGroupRole', { group, role })`; `describeCommand(id, session)`
 * for a button's words, state and tooltip; `bindKeys()` once for the page; `registerBench()` by the bench.
 */

export { nearPairs } from './alike';
export { type BenchHandlers, benchHandlers, registerBench } from './bench';
export type { Command, CommandAnswer } from './command';
export { tryDrawn } from './draw';
export { freshDryFit, type Mend } from './dryFit';
export { freeName, type NewPart, selectedFaces } from './extras';
export type { BendRole } from './foam';
export { isAcceptable, isSure, sureFrom } from './foundSeams';
export { stepLabels } from './going';
export { bindKeys, commandForKey, keyLabel, matchesKey } from './keys';
export { asMade, freeStretch } from './madeSeams';
export { freshSheetId } from './offcut';
export { currentProposal, joinPlan, seamsToJoin } from './panels';
export { accepted, acceptedTables, pickFiles, readFiles } from './pickFiles';
export { roleLabels } from './reading';
export { type CommandId, commands } from './registry';
export {
  type CommandArgs,
  type CommandOutcome,
  describeCommand,
  type PlainCommandId,
  runCommand,
} from './run';
export {
  indexOf,
  seamIndexOf,
  selectedBends,
  selectedEdges,
  selectedFolds,
  selectedLines,
  selectedPieces,
  selectedSeams,
  selectedTabs,
} from './selection';
export { selectedPlacements, shownSheets } from './sheets';
export { registerShellCard } from './shellCard';
