export { makePagesPdf, makePanelsSvg } from './files';
export { formatPercent, mapContextOf } from './mapContext';
export { createPipeline, distinctIssues, type PartListener, type Pipeline, stopped } from './pipeline';
export { realStages, type Stages } from './stages';
