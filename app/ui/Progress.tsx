import { cancelWork, useSession } from '../document';

/** Long work: how far it is, and a way out. */
export function Progress() {
  const progress = useSession((s) => s.progress);
  return (
    <div className="progress" role="status">
      {progress ? (
        <>
          <label>
            <span>{progress.what}</span>
            <progress max={1} value={progress.fraction} />
          </label>
          <button type="button" onClick={cancelWork}>
            Cancel
          </button>
        </>
      ) : null}
    </div>
  );
}
