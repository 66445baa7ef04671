/** Every command by its id. */
import { zoomFit, zoomIn, zoomOut, zoomTo } from './bench';
import { proposeBrow, setBrow } from './brow';
import { close, exportPdf, exportProject, exportSvg, open, save } from './files';
import { setBend, setPreparation, setPreparationForAll, setRoleBend } from './foam';
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
import { confirmSeams, markBorder, pairEdges, turnSeam, unmarkBorder, unpair } from './seams';
import { trustDoubtful, turnShell, turnShellBack } from './shell';

export const commands = {
  open,
  save,
  close,
  exportPdf,
  exportSvg,
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
} as const;

export type CommandId = keyof typeof commands;
