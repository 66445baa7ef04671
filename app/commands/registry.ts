/** Every command by its id. */
import { zoomFit, zoomIn, zoomOut, zoomTo } from './bench';
import { proposeBrow, setBrow } from './brow';
import { close, exportBand, exportFold, exportPdf, exportProject, exportSvg, open, save } from './files';
import { setBend, setPreparation, setPreparationForAll, setRoleBend } from './foam';
import { acceptSure, confirmSeams, findRest, giveMate, leaveRest } from './foundSeams';
import { clearGirth, layTape, measureChain, typeGirth } from './girth';
import {
  chainTool,
  chooseTheme,
  clearSelection,
  computeAgain,
  goToStep,
  handTool,
  nextStep,
  pairTool,
  previousStep,
  redo,
  selectAll,
  selectTool,
  setUnit,
  tapeTool,
  toggleUnit,
  undo,
} from './going';
import { keepTabs, setGroupRole, setLineRole, stripTabs } from './reading';
import { markBorder, pairEdges, turnSeam, unmarkBorder, unpair } from './seams';
import { trustDoubtful, turnShell, turnShellBack } from './shell';
import { toggleShell } from './shellCard';
import { foldUp, forgetKnown, keepSymmetry, knowDistance, knowGirth } from './shellKnown';

export const commands = {
  open,
  save,
  close,
  exportPdf,
  exportSvg,
  exportFold,
  exportBand,
  exportProject,
  undo,
  redo,
  nextStep,
  previousStep,
  goToStep,
  handTool,
  selectTool,
  pairTool,
  chainTool,
  tapeTool,
  selectAll,
  clearSelection,
  zoomIn,
  zoomOut,
  zoomFit,
  zoomTo,
  toggleUnit,
  setUnit,
  chooseTheme,
  computeAgain,
  setGroupRole,
  setLineRole,
  keepTabs,
  stripTabs,
  pairEdges,
  unpair,
  confirmSeams,
  acceptSure,
  giveMate,
  findRest,
  leaveRest,
  turnSeam,
  markBorder,
  unmarkBorder,
  setBend,
  setRoleBend,
  setPreparation,
  setPreparationForAll,
  measureChain,
  layTape,
  typeGirth,
  clearGirth,
  setBrow,
  proposeBrow,
  turnShell,
  turnShellBack,
  trustDoubtful,
  foldUp,
  keepSymmetry,
  knowDistance,
  knowGirth,
  forgetKnown,
  toggleShell,
} as const;

export type CommandId = keyof typeof commands;
