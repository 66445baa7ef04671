import { dismissNotice, useSession } from '../document';
import { Dialog, IssueItem } from './parts';

/** A message that needs to be seen: what happened, where, what to do. */
export function NoticeDialog() {
  const notice = useSession((s) => s.notice);
  if (!notice) return null;
  return (
    <Dialog
      title={notice.title}
      onClose={dismissNotice}
      actions={
        <button type="button" className="main-action" onClick={dismissNotice}>
          Understood
        </button>
      }
    >
      <ul className="issues">
        {notice.issues.map((issue, i) => (
          <IssueItem key={`${issue.code} ${i.toString()}`} issue={issue} />
        ))}
      </ul>
    </Dialog>
  );
}
