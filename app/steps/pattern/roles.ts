import type { LineRole, UnreadLine } from '../../../src/model';
import { lineRoles } from '../../../src/model';
import { roleLabels } from '../../commands';
import type { Option } from '../../ui/fields';

export const roleOptions: readonly Option<LineRole>[] = lineRoles.map((role) => ({
  value: role,
  label: roleLabels[role],
}));

export const unreadWords: Readonly<Record<UnreadLine['reason'], string>> = {
  dangling: 'ends in the open',
  'not-closed': 'does not close',
  'outside-all-pieces': 'lies outside every piece',
  'zero-length': 'has no length',
};
