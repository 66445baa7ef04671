import type { ShellFit } from '../../../src/model';
import { Figures, Folded } from '../../ui/parts';
import { Part } from '../Sheet';
import { useUnit } from '../useWork';
import { clearanceFigures, goesOnSentence } from './sizeFigures';

/** How the finished shell sits on the head, and whether it goes on at all. */
export function Wearing({ shell }: { readonly shell: ShellFit }) {
  const unit = useUnit();
  const { clearances, goesOn, headform } = shell;
  if (!clearances && !goesOn && !headform) return null;
  return (
    <Part title="On the head">
      {goesOn ? (
        <div className={goesOn.passes ? 'context' : 'ask'} role="status">
          <p>{goesOnSentence(goesOn, unit)}</p>
          {goesOn.help.length > 0 ? (
            <ul>
              {goesOn.help.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          ) : null}
        </div>
      ) : null}
      {clearances ? <Figures label="Room on the head" items={clearanceFigures(clearances, unit)} /> : null}
      {headform && headform.assumed.length > 0 ? (
        <Folded title="Measures that nobody took" value="assumed">
          <ul className="hint">
            {headform.assumed.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Folded>
      ) : null}
    </Part>
  );
}
