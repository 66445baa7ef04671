import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm } from '../units';
import type { Lettering, LineKind } from './marked';

/** Page space: mm, y up, origin at the page's bottom-left corner (as in PDF). */
export interface PagePlan {
  readonly width: Mm;
  readonly height: Mm;
  readonly margin: Mm;
  readonly overlap: Mm;
  /** Correction that print positions are multiplied with, from a measured check square. 1 = none. */
  readonly correction: { readonly x: number; readonly y: number };
  readonly pages: readonly Page[];
  /** Where each panel was put: sheet = move(panel point), before tiling. */
  readonly placements: readonly Placement[];
  /** Extent of the whole layout, mm. */
  readonly extent: { readonly width: Mm; readonly height: Mm };
  readonly issues: readonly Issue[];
}

/** Placement of a panel in layout space (mm, y up): mirrored about the y axis first if asked, turned, then moved. */
export interface Placement {
  readonly panel: string;
  readonly copy: number;
  readonly mirrored: boolean;
  readonly angle: number;
  readonly move: Point;
}

export interface Page {
  /** "B3": column letter, row number; "map" for the map page. */
  readonly name: string;
  readonly row: number;
  readonly column: number;
  /** Layout-space position of this page's lower-left printable corner. */
  readonly origin: Point;
  readonly neighbours: {
    readonly left: string;
    readonly right: string;
    readonly above: string;
    readonly below: string;
  };
  readonly strokes: readonly PageStroke[];
  readonly lettering: readonly Lettering[];
  readonly registration: readonly RegistrationMark[];
  /** Panels with ink on this page. */
  readonly panels: readonly string[];
}

export interface PageStroke {
  readonly kind: LineKind;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

export interface RegistrationMark {
  /** Same id on every page that shares it. */
  readonly id: string;
  /** Page space. */
  readonly at: Point;
  /** Layout space. */
  readonly layoutAt: Point;
}
