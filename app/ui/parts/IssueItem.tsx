import { Crosshair } from 'lucide-react';
import type { Issue } from '../../../src/base';
import { severityLooks } from './severity';

interface IssueItemProps {
  readonly issue: Issue;
  /** Absent where there is nothing to show, e.g. in a message about a file that was not opened. */
  readonly onShow?: (issue: Issue) => void;
}

/** One finding: weight, what happened, where, what to do. */
export function IssueItem({ issue, onShow }: IssueItemProps) {
  const look = severityLooks[issue.severity];
  const Icon = look.icon;
  const { source } = issue.place;
  return (
    <li className="issue" data-severity={issue.severity}>
      <span className="issue-weight">
        <Icon aria-hidden="true" size={16} />
        {look.word}
      </span>
      <div className="issue-text">
        <p>{issue.message}</p>
        {issue.remedy ? <p className="issue-remedy">{issue.remedy}</p> : null}
        {source ? (
          <p className="hint">
            {source.file}, line {source.line}, column {source.column}
          </p>
        ) : null}
      </div>
      {onShow ? (
        <button type="button" className="quiet" onClick={() => onShow(issue)}>
          <Crosshair aria-hidden="true" size={15} /> Show me
          <span className="unseen">: {issue.message}</span>
        </button>
      ) : null}
    </li>
  );
}
