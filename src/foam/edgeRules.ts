/**
 * How each seam is cut and each fold is made: as decided for it, else as decided for all, else by rule. And how thick
 * each panel is and where its skins lie.
 */
import {
  type FoamDecisions,
  type FoamDepths,
  type FoldPreparation,
  type PanelFold,
  panelDepths,
  type SeamPreparation,
} from '../model';
import type { Mm, Rad } from '../units';
import { lapFrom, lapTo } from './tolerance';

/** How a seam with this bend is cut. Seams too flat or too sharp to lap are bevelled. */
export function seamPreparation(id: string, bend: Rad | null, foam: FoamDecisions): SeamPreparation {
  const decided = foam.preparationOf[id] ?? foam.preparation;
  if (decided === 'rules') return Math.abs(bend ?? 0) < foam.flushBelow ? 'flush' : 'bevel';
  return decided === 'lapped' && !canLap(bend) ? 'bevel' : decided;
}

/** Near a square corner, where one panel can run past the other. */
export const canLap = (bend: Rad | null): boolean =>
  bend !== null && Math.abs(bend) >= lapFrom && Math.abs(bend) <= lapTo;

export function foldPreparation(id: string, bend: Rad | null, foam: FoamDecisions): FoldPreparation {
  const decided = foam.foldPreparationOf[id] ?? foam.foldPreparation;
  if (decided === 'rules') return Math.abs(bend ?? 0) >= foam.scoreFrom ? 'scored' : 'soft';
  return decided;
}

/** Where the foam of a panel lies about the paper's surface; depths may be negative for a panel thinner than the rest. */
export interface PanelFoam {
  readonly thickness: Mm;
  readonly depths: FoamDepths;
  /** Height of the neutral layer above the paper's surface. */
  readonly neutral: Mm;
}

export function panelFoam(panel: string, foam: FoamDecisions): PanelFoam {
  const thickness = foam.thicknessOf[panel] ?? foam.thickness;
  const depths = panelDepths(panel, foam);
  return { thickness, depths, neutral: depths.outside - (1 - foam.neutralRatio) * thickness };
}

/**
 * The groove of a scored fold: cut from the closing side (inside at a convex bend), as wide as its walls close,
 * 2 g tan(|φ|/2) for depth g.
 */
export function grooveOf(bend: Rad, thickness: Mm, foam: FoamDecisions): NonNullable<PanelFold['groove']> {
  const depth = foam.scoreDepth * thickness;
  return {
    side: bend > 0 ? 'inside' : 'outside',
    depth,
    web: thickness - depth,
    width: 2 * depth * Math.tan(Math.abs(bend) / 2),
  };
}

/**
 * By how much a flat panel with a scored fold is longer across it than its source surface: the faces turn about the
 * neutral layer of the web, which lies off that surface by a height z; 2 z tan(φ/2).
 * @param depths of the skins about the source surface
 */
export function scoredLength(bend: Rad, thickness: Mm, foam: FoamDecisions, depths: FoamDepths): Mm {
  const web = thickness - foam.scoreDepth * thickness;
  const hinge =
    bend > 0 ? depths.outside - (1 - foam.neutralRatio) * web : foam.neutralRatio * web - depths.inside;
  return 2 * hinge * Math.tan(bend / 2);
}
