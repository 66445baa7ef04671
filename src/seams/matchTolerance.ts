import type { Mm, Rad } from '../units';

/**
 * Tolerances and weights of matching by geometry, each with its reason. They were chosen on the tuned members of
 * tests/seams/matchFamily.ts; README.md gives the figures on the members held back.
 */

/** Widest difference of mates that is looked at before the drawing's own noise is known. Loose ends are joined within
 *  0.1 mm; ten times more would make any two edges mates. */
export const widestDifference: Mm = 0.15;
/** The noise is taken from runs of three pairs that agree, when there are at least so many. */
export const fewestNoiseRuns = 8;
/** … and of more than so many a share is looked at: their number sharpens the estimate no further. */
export const mostNoiseRuns = 1200;
/** Steps of the estimate of noise and chance. */
export const noiseRounds = 25;
/** A normal error stays within 0.6745 of its width half of the time. */
export const medianToWidth = 1 / 0.6745;
/** Seams found at a guessed noise tell the noise when there are so many … */
export const fewestNoiseSeams = 12;
/** … and the drawing is so many times as exact: then all is matched again, since equal lengths say much more. */
export const farMoreExact = 2;
/** Noise of a pattern that has too few such runs. */
export const usualNoise: Mm = 0.012;
/** Least noise: coordinates are written with about four decimals. */
export const leastNoise: Mm = 0.0008;
/** Steps in which the noise is sought: finer makes no difference. */
export const noiseStep = 1.1;
/** Share of errors that are twice as wide as the others. */
export const wideErrors = 0.1;
/** Mates differ by at most so many times the noise. */
export const noiseReach = 4.5;
/** Edges per mm of length are counted within this on either side. */
export const densityReach: Mm = 0.5;
/** Most candidates of one edge; where more agree (regular solids) length tells nothing. */
export const mostCandidates = 60;

/** Share of outline edges that stay open on patterns of shells; of what a pass leaves over, the other. */
export const openShare = 0.15;
export const leftOpenShare = 0.5;
/** Weight of "nothing closes here": the seam ends at an opening, or the corner has more pieces than were tried. */
export const unclosedWeight = 0.015;
/** The angles round a closed corner miss a full turn by about so much on costume shells, rad. */
export const usualDefect: Rad = 0.35;
/** Corners that miss a full turn by more are not looked at, rad. */
export const mostDefect: Rad = 1.9;
/** Most pieces round a corner, pass by pass: what the first pass settles leaves fewer choices to the next. */
export const mostRound: readonly number[] = [4, 5, 6, 7, 8, 8];
/** Steps of the search for closing corners; a regular solid would never end. */
export const searchSteps = 10_000_000;
/** Rounds in which beliefs and corners are weighed against each other. */
export const beliefRounds = 14;
/** In the first round a corner counts by this power of what its pairs are believed, in the last by the first power:
 *  else many weak links of one long seam would never begin to hold each other up. */
export const firstPower = 0.4;
/** Pairs believed less than this are candidates, not seams. */
export const believedFrom = 0.6;
/** The same where no corner closes at either end and length alone speaks. */
export const loneBelievedFrom = 0.75;
/** … or this, where it speaks so many times louder than for any other edge. */
export const leadingBelievedFrom = 0.45;
export const leadingBy = 8;

/** Zipping on from a closed end needs the corner there to close within this, rad. A smooth border has about half a
 *  turn there, an inward corner of an opening three quarters. */
export const zipDefect: Rad = 0.6;
/** Angles of mirror images agree within the drawing's noise over a short edge, at least this, rad. */
export const mirrorAngle: Rad = 0.004;
/** Where everything else closes, lengths may differ by so many times what candidates may. */
export const zipReach = 1.6;

/** Along a seam between mirror images the angles of both sides miss a full turn by at most this, rad. At the ends of
 *  the seam they make about half a turn. */
export const runCloses: Rad = 1;
/** Where a line of the middle ends, the rims of both halves make half a turn within this, rad. */
export const smoothEnd: Rad = 0.65 * Math.PI;
/** The middle of a shell has at least so many edges … */
export const fewestMiddleEdges = 6;
/** … and is at least so many times as long as any other line along which the two parts could meet. */
export const middleLead = 1.15;
/** Over a line of the middle a half turns by this much, rad, least and most … */
export const middleTurn: readonly [Rad, Rad] = [-0.15, 1.6];
/** … and other lines count by this part of their length. */
export const oddBend = 0.6;
/** A fold-up is sound when lengths are kept within this. Patterns that leave mild folds out fold up to 0.09 mm … */
export const soundFold: Mm = 0.05;
/** … so above that a doubtful seam is held against the fold-up without it, which it may make so many times worse. */
export const foldCost = 1.7;
/** A shell this far off is no shell: what was joined to get it stays open whatever it is like without. */
export const hopelessFold: Mm = 0.3;
/** Seams believed less than this are the first to be doubted; where the surface is none, these steps are tried. */
export const doubtSteps: readonly number[] = [0.85, 0.95, 0.99];
/** Seams gained by gaps that are worth folding up again. */
export const worthFolding = 3;
/** With at least so many tabs, and this part of the seams having one on just one side, tabs tell. */
export const fewestTabs = 6;
export const tabsTellPart = 0.6;
/** Ends that come together in the folded shell: at most this far apart … Wrong pairs were 22 mm apart in a study of
 *  five patterns. */
export const gapWithin: Mm = 2.5;
/** … and at most this part of the edge, so that neighbours do not pass for each other … */
export const gapPart = 0.12;
/** … and other candidates must be at least so many times farther apart. */
export const gapLead = 3;
/** Times the shell is folded up. */
export const mostFolds = 3;

/** Edges of mirror twins differ in length by at most this: twice what loose ends are joined within. */
export const twinDifference: Mm = 0.2;
/** Angles of mirror twins differ by at most this, rad … */
export const twinAngle: Rad = 0.004;
/** … or, over short edges, by the angle that ends off by this make, mm. */
export const twinAngleOffset: Mm = 0.3;
/** A twin fits so many times better than any other, else there is none: equal pieces can be twins in several ways. */
export const twinLead = 3;
/** With at least so many twin edges their differences tell the noise. */
export const fewestTwins = 20;
/** A pattern is symmetric when this share of its edges has a twin: single triangles are twins by chance. */
export const symmetricShare = 0.5;
/** Twins tell the noise unless runs show more than so many times as much. */
export const runsAgree = 3.5;
/** At the rim of an opening the pieces make half a turn, give or take this, rad … */
export const smoothRimSpread: Rad = 0.4;
/** … which is so many times likelier there than elsewhere. */
export const smoothRim = 4;
/** Where a seam ends open in more than this, it would end in a slit: shells do not. */
export const slitAngle: Rad = 1.65 * Math.PI;
/** What the first passes leave over ends at openings so many times as often. */
export const leftUnclosed = 8;
/** A rim that makes more than this is two rims sewn together. */
export const overfull: Rad = 2.15 * Math.PI;
/** Such a seam taken apart leaves rims that are straight within this at every corner, rad. */
export const roughestRim: Rad = 0.45 * Math.PI;
/** Most edges of a mouth: longer ones would not be chance. */
export const longestMouth = 24;
/** Rings of fewer seams are single pieces that fit turned round; glued either way they make the same shell. */
export const fewestRingSeams = 10;
/** Most seams of half a ring. */
export const longestRing = 80;
/** Turned round, corners miss a full turn by at most this, rad. */
export const mostTurnedDefect: Rad = 1.2;
/** Steps of the search for rings: bodies of revolution have more rings than could be looked at. */
export const ringSteps = 400_000;
/** Of two shells that fold up equally well, one is smoother when its seams bend less by this part. */
export const smootherBy = 0.002;
/** Short edges that meet one long edge lie in one line within this, rad. */
export const inLine: Rad = 0.2;
/** Most short edges against one long edge. */
export const mostTeeEdges = 8;
/** The closed end of such a line may be as sharp as the corner of a box, rad short of a full turn. */
export const sharpestTee: Rad = 1.7;
/** Lines of open edges laid against each other agree within so many times the noise at each edge … */
export const alignedReach = 3.5;
/** … which chance does at one edge in so many, where neighbours are about as wide as each other … */
export const alignedChance = 2.5;
/** … over at least so many edges, and so many times better than any other line there, or than chance makes one. */
export const fewestAligned = 5;
export const alignedLead = 100;
/** Pairs that could join loose parts: their lengths are so many times likelier between mates than by chance … */
export const looseLength = 2;
/** … and no more are weighed together: all their combinations are gone through. */
export const mostLooseChoices = 14;
/** Loose parts are joined when lengths and corners together are so many times likelier than chance, for each part … */
export const looseEvidence = 5;
/** … by those pairs that all ways share which are not so many times less likely than the best. */
export const looseLead = 2;
/** Where a rim folded onto itself ends, about half a turn comes together; corners of costume shells are blunter, rad. */
export const spike: Rad = 1.4 * Math.PI;
/** An open corner from which such a line may begin: two rims' corners in one, rad. */
export const wideSlit: Rad = 1.5 * Math.PI;
/** Angles on both sides of the line agree within this, rad: the drawing's noise over short edges. By chance three in a
 *  hundred lines of seams agree so well at a corner. */
export const mirrorSplit: Rad = 0.03;
/** Fewest seams of such a line, by how many of its ends are seen. */
export const fewestRimSeams = { oneEnd: 3, bothEnds: 2 } as const;
/** What a rim taken apart sets free may be sewn up elsewhere: so many times at most. */
export const mostRimRounds = 6;
/** Lines of more seams between two openings are no bridge: their corners tell which way round they go. */
export const mostBridgeSeams = 4;
/** Another way to glue a bridge is weighed where the rims make it at most exp of this less likely. On 60 generated domes
 *  the wrong way was found to lead by up to 1.5. */
export const bridgeBehind = 2.5;
/** One way is clearly the best when it is so many times likelier than the next. */
export const bridgeLead = 2;
/** Sums of bends of two shells tell nothing within this part: an upside-down bridge was found 4 % smoother … */
export const equallySmooth = 0.05;
/** … and each 5 % beyond that count as much as rims that are twice as likely. */
export const smoothnessWeight = 14;
/** Lengths that are off tell nothing within this part either: on clean and loose drawings right ways were up to 2.4 %
 *  worse, wrong ones 6 to 42 % where they were worse at all … */
export const equallyClose = 0.05;
/** … and beyond that they count as much as so many lengths that are free to disagree, of hundreds on any shell. */
export const closenessWeight = 25;
/** One shell so many times as far off as the other is strained for another reason: a right one was seen whose fold-up
 *  stuck at 26 times what the wrong one reached. */
export const stuckFold = 3;
/** Folds spent on bridges. */
export const mostBridgeFolds = 6;
/** Openings that a part plugs as a whole have at least so many edges: two could be any pair of equal length … */
export const fewestPlugEdges = 3;
/** … and at most so many: longer ones are rims of shells. */
export const mostPlugEdges = 40;
/** An outline that turns back on itself within this is a slit in the piece, rad: ends of lines are joined within 0.1 mm,
 *  and no paper tip is narrower. */
export const slitTip: Rad = 2e-3;
/** Pieces that agree edge by edge change places where lengths make that likelier; it is said unless one way is so many
 *  times likelier than the other. */
export const exchangeClear = 20;
/** Pieces that agree with more others, or in more ways, are those of regular solids and of rows of equal plates: there
 *  every exchange is one. */
export const mostAlike = 6;
/** Most exchanges made, of a few pairs on any costume shell. */
export const mostExchanges = 40;
/** Corners of such pieces differ by at most this, rad: edges agree within the noise when a quad is sheared by less. */
export const alikeAngle: Rad = 0.1;
/** Pieces in each other's places strain the folded shell: their corners lie at least this part of the way towards the
 *  shape of the other piece (0.05 to 0.5 were seen; in their own places a few parts in a thousand) … */
export const strainPull = 0.025;
/** … and so many times farther than the noise moves them … */
export const strainOverNoise = 3;
/** … and exchanged the strain falls to this part of what it was. */
export const strainFalls = 0.6;
/** The folded shell is not asked where lengths make the other way exp of this less likely. */
export const lengthsRuleOut = 14;
/** Shapes that differ by fewer times the noise are the same in any shell. */
export const strainSeen = 4;
/** A mirror of faces covers at least this share of them, from one pair of faces: less is chance or another symmetry. */
export const fewestMirrored = 0.3;
/** Each place where spreading it over a fold or seam fails counts like so many faces without an image. */
export const clashCost = 4;
/** It covers so many times more than any other. */
export const mirrorClear = 1.5;
/** Faces that are begun from, those with the fewest faces of their shape. */
export const mirrorSeeds = 24;
/** An edge of the middle is a rim or a seam where one way is exp of this likelier than the other: where no strip was
 *  left loose, the wrong way never led on 240 drawings of 120 domes. */
export const middleClear = 1.6;
/** A strip across the middle is glued where that makes the whole exp of this likelier … */
export const bridgeGain = 2.5;
/** … or this where it joins no loose part: among all edges of the middle one pair was found that led by 5.1 by chance … */
export const closingGain = 6;
/** … and exp of this likelier than any other way for its edges. */
export const bridgeAhead = 1.6;
/** Ways that are within exp of this of each other are a tie: wrong ones led by up to 0.63. */
export const bridgeTie = 0.9;
/** Single edges that bridge the middle are weighed again when they are believed less. */
export const sureBridge = 0.9;
/** What the middle sets free may be matched, and the middle weighed again: so many times at most. */
export const mostMiddleRounds = 3;
