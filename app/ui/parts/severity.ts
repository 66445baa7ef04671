import { Info, type LucideIcon, OctagonX, TriangleAlert, Wrench } from 'lucide-react';
import type { Severity } from '../../../src/base';

/** How a finding's weight is worded and drawn; the words come first, colour only helps. */
export const severityLooks: Readonly<Record<Severity, { readonly word: string; readonly icon: LucideIcon }>> =
  {
    error: { word: 'Will fail', icon: OctagonX },
    warning: { word: 'Look at this', icon: TriangleAlert },
    repaired: { word: 'Repaired', icon: Wrench },
    note: { word: 'Note', icon: Info },
  };
