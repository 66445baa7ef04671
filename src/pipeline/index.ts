export { isForHead, makeAllFiles, makeArchive } from './archive';
export { layBand, makeBandPdf } from './band';
export { type Cut, cutOf, foamFor } from './cut';
export { stopped } from './faults';
export { makeFoldFile, makePagesPdf, makePanelsDxf, makePanelsSvg, makeSheetFile } from './files';
export { createFoldMemos, foldUp, pairUp } from './folding';
export { formatPercent, mapContextOf } from './mapContext';
export { createPipeline, distinctIssues, type PartListener, type Pipeline, partOf } from './pipeline';
export { realStages, type Stages } from './stages';
