import { Component, type ErrorInfo, type ReactNode } from 'react';
import { closeDocument, saveProjectFile } from '../document';

interface State {
  readonly error: Error | null;
}

/** When a screen fails, the document must not go with it: it can still be saved as a file. */
export class ErrorBoundary extends Component<{ readonly children: ReactNode }, State> {
  override state: State = { error: null };

  static getDerivedStateFromError(error: unknown): State {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    console.error(error, info.componentStack);
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (!error) return this.props.children;
    return (
      <main className="broken">
        <h1>The screen has failed</h1>
        <p>
          Your pattern and decisions are still here. Save them as a project file, then reload the page. If it
          fails again, close the document.
        </p>
        <div className="buttons">
          <button type="button" className="main-action" onClick={saveProjectFile}>
            Save project file
          </button>
          <button type="button" onClick={() => location.reload()}>
            Reload
          </button>
          <button
            type="button"
            onClick={() => void closeDocument().then(() => this.setState({ error: null }))}
          >
            Close this document
          </button>
        </div>
        <details>
          <summary>What went wrong</summary>
          <pre>{error.stack ?? error.message}</pre>
        </details>
      </main>
    );
  }
}
