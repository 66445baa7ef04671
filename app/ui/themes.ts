import { type LucideIcon, Monitor, Moon, Sun } from 'lucide-react';
import type { Session } from '../document';

/** The themes in the order in which the button goes round. */
export const themes: readonly {
  readonly theme: Session['theme'];
  readonly label: string;
  readonly icon: LucideIcon;
}[] = [
  { theme: 'system', label: 'as the system', icon: Monitor },
  { theme: 'light', label: 'light', icon: Sun },
  { theme: 'dark', label: 'dark', icon: Moon },
];
