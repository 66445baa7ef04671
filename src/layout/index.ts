export { type CheckLines, checkLines, layCheckPage } from './checkPage';
export { type TileCoverage, tileCoverage } from './coverage';
export { keepHalf } from './half';
export { layPages } from './layPages';
export { laySheets, type SheetWords } from './laySheets';
export type { MapContext } from './mapContext';
export { clearOf } from './pageFormat';
export { type PrinterCheck, readPrinterCheck } from './printerCheck';
