export { type LetteringFont, loadLettering } from './letteringFont';
export { markPanels } from './markPanels';
