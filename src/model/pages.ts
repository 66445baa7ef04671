import type { Issue } from '../base';
import type { Box, Point } from '../math';
import type { Mm } from '../units';
import type { Lettering, LineKind } from './marked';

/** Page space: mm, y up, origin at the page's bottom-left corner (as in PDF). */
export interface PagePlan {
  readonly width: Mm;
  readonly height: Mm;
  readonly margin: Mm;
  readonly overlap: Mm;
  /** The frame, page space: inside it a page shows its part of the layout; the footer stands below it. */
  readonly printed?: Box;
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
  /** "B3": column letter, row number; "map" for the map page, "map 2" for its second sheet. */
  readonly name: string;
  readonly row: number;
  readonly column: number;
  /** Layout-space position of the lower-left corner of this page's frame. */
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

/** Is the page part of the map? It has no place in the layout. */
export const isMapPage = (page: Pick<Page, 'name'>): boolean => page.name.startsWith('map');

export interface PageStroke {
  readonly kind: LineKind;
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** How far into its dash pattern the stroke starts, mm, so that dashes run on from page to page; default 0. */
  readonly dashStart?: Mm;
}

export interface RegistrationMark {
  /** Same id on every page that shares it. */
  readonly id: string;
  /** Page space. */
  readonly at: Point;
  /** Layout space. */
  readonly layoutAt: Point;
}
