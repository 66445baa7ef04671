export { CautionNote } from './CautionNote';
export { Dialog } from './Dialog';
export { type Figure, Figures } from './Figures';
export { Folded } from './Folded';
export { IssueItem } from './IssueItem';
export { ScrollBox } from './ScrollBox';
export { TableHead } from './TableHead';
