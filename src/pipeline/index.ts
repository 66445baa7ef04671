export { noResults, type Results } from './results';
