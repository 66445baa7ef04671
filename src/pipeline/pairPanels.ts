/** Mirror pairs of panels, drawn once where that is asked for. */
import type { Issue } from '../base';
import type { FoamResult, Seams } from '../model';
import { drawnOnce, type MirrorPair, mirrorPairs, pairIssues, withPairs } from '../panels';
import type { Mm } from '../units';

export interface PairedPanels {
  /** All panels, those told that serve for two. */
  readonly foam: FoamResult;
  /** Panels that have a template. */
  readonly listed: FoamResult;
  readonly pairs: readonly MirrorPair[];
  readonly issues: readonly Issue[];
}

/** @param within tolerance; 0: every panel has its own template */
export function pairPanels(foam: FoamResult, seams: Seams, within: Mm): PairedPanels {
  if (!(within > 0)) return { foam, listed: foam, pairs: [], issues: [] };
  const pairs = mirrorPairs(foam, within);
  const told = withPairs(foam, pairs);
  return {
    foam: told,
    listed: drawnOnce(told, pairs),
    pairs,
    issues: pairIssues(foam, seams, pairs, within),
  };
}
