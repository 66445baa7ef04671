export { App } from './App';
export { ErrorBoundary } from './ErrorBoundary';
export { followTheme } from './followTheme';
