export { BuildStep } from './build/BuildStep';
export { FoamStep } from './foam/FoamStep';
export { PagesStep } from './pages/PagesStep';
export { PanelsStep } from './panels/PanelsStep';
export { PatternStep } from './pattern/PatternStep';
export { showOnBench } from './ShowButton';
export { SeamsStep } from './seams/SeamsStep';
export { SizeStep } from './size/SizeStep';
export { type StepMark, stepMarks, stepOfStage } from './stepMarks';
