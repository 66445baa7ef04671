import { Printer } from 'lucide-react';
import { useState } from 'react';
import type { Issue } from '../../../src/base';
import { checkLines, readPrinterCheck } from '../../../src/layout';
import type { PageDecisions } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { rememberedPrinter, useSession } from '../../document';
import { LengthField, NumberField, type ShownUnit } from '../../ui/fields';
import { Folded, IssueItem } from '../../ui/parts';
import { useDecisions, useUnit } from '../useWork';

type Side = 'left' | 'right' | 'top' | 'bottom';
const sides: readonly Side[] = ['left', 'right', 'top', 'bottom'];

interface Typed {
  readonly across: number | null;
  readonly up: number | null;
  readonly ticks: Readonly<Record<Side, number | null>>;
}

const nothing: Typed = {
  across: null,
  up: null,
  ticks: { left: null, right: null, top: null, bottom: null },
};

/** Lengths of lines are measured finer than others are. */
const fineDecimals = { mm: 2, in: 3 } as const;

/** What a printed check page measured: takes the printer's own error out and keeps pages off its dead edges. */
export function PrinterCheck() {
  const { pages } = useDecisions();
  const unit = useUnit();
  const busy = useSession((s) => s.progress !== null);
  const [typed, setTyped] = useState(nothing);
  const [issues, setIssues] = useState<readonly Issue[]>([]);
  const lines = checkLines(pages, unit);
  const known = pages.measured !== null || pages.reach !== null;
  const own = rememberedPrinter();
  const other = (own.measured || own.reach) && JSON.stringify(own) !== JSON.stringify(printerOf(pages));
  const line = (name: 'across' | 'up', label: string) => (
    <LengthField
      label={label}
      unit={unit}
      decimals={fineDecimals[unit]}
      fine
      value={typed[name]}
      placeholder={formatLength(lines[name], unit, { bare: true })}
      hint={`Drawn ${formatLength(lines[name], unit)} long.`}
      onCommit={(length) => setTyped({ ...typed, [name]: length })}
      onClear={() => setTyped({ ...typed, [name]: null })}
    />
  );
  const take = () => {
    const read = readPrinterCheck(typed, lines, unit);
    setIssues(read.issues);
    if (!read.ok) return;
    runCommand('setPrinter', read.value);
    setTyped(nothing);
  };
  return (
    <Folded title="Printer check" value={known ? printerWords(pages, unit) : 'not measured'}>
      <p className="hint">
        One page with rulers, squares and ladders at the edges. Print it at 100 %, measure, and type what it
        shows: further pages come out at true size and keep clear of edges that the printer cannot reach.
      </p>
      <button type="button" disabled={busy} onClick={() => runCommand('exportCheck')}>
        <Printer aria-hidden="true" size={16} /> Print the check page…
      </button>
      <div className="pairs">
        {line('across', 'Line A, across')}
        {line('up', 'Line B, up')}
      </div>
      <fieldset className="formed stack">
        <legend className="field-label">Outermost tick that was printed</legend>
        <div className="pairs">
          {sides.map((side) => (
            <NumberField
              key={side}
              label={`At the ${side}`}
              kind="count"
              by={1}
              value={typed.ticks[side]}
              onCommit={(n) => setTyped({ ...typed, ticks: { ...typed.ticks, [side]: n } })}
              onClear={() => setTyped({ ...typed, ticks: { ...typed.ticks, [side]: null } })}
            />
          ))}
        </div>
      </fieldset>
      {issues.length > 0 ? (
        <ul className="issues" role="alert">
          {issues.map((issue) => (
            <IssueItem key={`${issue.code} ${issue.message}`} issue={issue} />
          ))}
        </ul>
      ) : null}
      <div className="buttons">
        <button type="button" onClick={take}>
          Use these figures
        </button>
        {known ? (
          <button type="button" className="quiet" onClick={() => runCommand('forgetPrinter')}>
            Print uncorrected
          </button>
        ) : null}
        {other ? (
          <button type="button" className="quiet" onClick={() => runCommand('setPrinter', own)}>
            Take this computer’s printer: {printerWords(own, unit)}
          </button>
        ) : null}
      </div>
      <p className="hint">
        The figures are saved with this pattern, so that its pages are the same tomorrow, and are proposed for
        new patterns on this computer.
      </p>
    </Folded>
  );
}

type PrinterFigures = Pick<PageDecisions, 'measured' | 'reach'>;

const printerOf = ({ measured, reach }: PrinterFigures): PrinterFigures => ({ measured, reach });

/** "× 100.5 % across, × 99.8 % up, edges 4, 5, 3, 13 mm". */
function printerWords({ measured, reach }: PrinterFigures, unit: ShownUnit): string {
  const percent = (m: number) => `${Math.round((100 / m) * 10000) / 100} %`;
  const parts = measured ? [`× ${percent(measured.x)} across, × ${percent(measured.y)} up`] : [];
  if (reach) {
    const strips = sides.map((s) => formatLength(reach[s], unit, { bare: true })).join(', ');
    parts.push(`edges ${strips} ${unit}`);
  }
  return parts.join('; ');
}
