import { useMemo, useState } from 'react';
import type { Issue, StageName } from '../../src/base';
import { focusOn, select, session, setStep, shownIn, shownResults, useSession } from '../document';
import { stepOfStage } from '../steps';
import { SelectField } from './fields';
import { groupFindings, stageWords, summariseFindings } from './findingGroups';
import { IssueItem, ScrollBox } from './parts';
import { pointsOfIssue } from './where';

export function useFindingsSummary(): string {
  const issues = useSession((s) => s.results.issues);
  return useMemo(() => summariseFindings(issues), [issues]);
}

/** Opens the step a finding belongs to and shows its place on the bench. */
function show(issue: Issue): void {
  setStep(stepOfStage[issue.stage]);
  const ids = issue.place.ids ?? [];
  select(ids, 'replace');
  focusOn(pointsOfIssue(issue, shownIn(session.getState())), ids);
}

/** All findings of all stages: what, where, what to do. */
export function Findings({ onShow }: { readonly onShow: () => void }) {
  const results = useSession((s) => s.results);
  const [only, setOnly] = useState<StageName | 'all'>('all');
  const { issues } = results;
  const all = groupFindings(issues, 'all');
  const groups = groupFindings(issues, only);
  if (issues.length === 0) {
    return (
      <p className="findings-none">
        Nothing to report: what was read, paired and computed raised no question.
      </p>
    );
  }
  return (
    <>
      <div className="findings-filter">
        <SelectField<StageName | 'all'>
          label="Show findings about"
          value={only}
          options={[
            { value: 'all', label: `everything (${issues.length})` },
            ...all.map((group) => ({
              value: group.stage,
              label: `${stageWords[group.stage]} (${group.issues.length})`,
            })),
          ]}
          onChange={setOnly}
        />
      </div>
      <ScrollBox className="findings-body" label="List of findings">
        {groups.map((group) => (
          <section key={group.stage} aria-label={stageWords[group.stage]}>
            <h2>{stageWords[group.stage]}</h2>
            <ul className="issues">
              {group.issues.map((issue, i) => {
                const placed =
                  pointsOfIssue(issue, shownResults(stepOfStage[issue.stage], results)).length > 0;
                return (
                  <IssueItem
                    key={`${issue.code} ${i.toString()}`}
                    issue={issue}
                    {...(placed
                      ? {
                          onShow: () => {
                            show(issue);
                            onShow();
                          },
                        }
                      : {})}
                  />
                );
              })}
            </ul>
          </section>
        ))}
      </ScrollBox>
    </>
  );
}
