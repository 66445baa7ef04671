import type { ShellPicture } from '../model';

/** What the map page says besides the layout itself. */
export interface MapContext {
  readonly title: string;
  /** Settings and results worth having on paper, in the person's unit. */
  readonly figures: readonly { readonly label: string; readonly value: string }[];
  readonly cautions: readonly string[];
  /** Face of the foam that the templates are drawn on; the inside is printed mirrored. */
  readonly tracedFace: 'outside' | 'inside';
  readonly lengthUnit: 'mm' | 'in';
  /** The folded shell; absent where there is none. */
  readonly shell?: ShellPicture;
}
