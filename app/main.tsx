import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '@fontsource/atkinson-hyperlegible/400.css';
import '@fontsource/atkinson-hyperlegible/700.css';
import './ui/theme.css';
import './ui/base.css';
import './ui/fields.css';
import './ui/parts.css';
import './ui/start.css';
import './ui/work.css';
import './ui/sheet.css';
import { bindKeys } from './commands';
import { startDocument } from './document';
import { App, ErrorBoundary, followTheme } from './ui';

const place = document.getElementById('app');
if (!place) throw new Error('The page has no element with the id “app”.');

followTheme();
bindKeys();
// The document of last time is on the bench before the first screen, so that a reload does not flash the start screen.
startDocument().finally(() => {
  createRoot(place).render(
    <StrictMode>
      <ErrorBoundary>
        <App />
      </ErrorBoundary>
    </StrictMode>,
  );
});
