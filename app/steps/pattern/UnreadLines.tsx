import type { Pattern } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { ShowButton } from '../ShowButton';
import { useUnit } from '../useWork';
import { unreadWords } from './roles';

/** Lines that took part in nothing, with the reason and the way to them. */
export function UnreadLines({ pattern }: { readonly pattern: Pattern }) {
  const unit = useUnit();
  if (pattern.unread.length === 0) return null;
  return (
    <Folded title="Lines not understood" value={counted(pattern.unread.length, 'line')} open>
      <ul className="rows rows-tight">
        {pattern.unread.map((line, i) => (
          <li key={`${line.line} ${i.toString()}`} className="row">
            <span>
              A line of {formatLength(line.length, unit)} {unreadWords[line.reason]}.
            </span>
            <ShowButton ids={[line.line]} what={`line ${i + 1} that was not understood`} />
          </li>
        ))}
      </ul>
    </Folded>
  );
}
