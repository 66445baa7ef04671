import type { Mm, Rad } from '../units';

/** Seams and folds bent this far or further are refused: tan(φ/2) passes 11 and grows without bound, and two sheets of
 *  foam laid back on each other are no seam. */
export const refusedBend: Rad = (170 * Math.PI) / 180;

/** A fold bent further should become a seam: at 40° the outer skin must stretch by 0.7 thicknesses in one crease. */
export const softBendLimit: Rad = (40 * Math.PI) / 180;

/** Points of a piece closer than this are the same corner: ten thousandths of what reading joins (0.1 mm), far above
 *  the rounding of coordinates. */
export const sameCorner: Mm = 1e-3;

/** Rounds in which bevelled edges that collide are changed to square cuts; a trial on seven shells needed 6 at most. */
export const fallbackRounds = 6;

/** A difference between the two sides of a seam that is worth a sentence: soft foam takes less by hand. */
export const mismatchWorthSaying: Mm = 2;

/** Flat corners that faces put this near to each other meet as exactly as numbers do; beyond it the misfit is spread. */
export const ringSlack: Mm = 1e-7;

/** Outline edges are held this many times as firmly as lengths inside a panel when a misfit is spread: mates then agree
 *  to hundredths of a millimetre (own study). */
export const outlineStiffness = 20;

/** Neighbouring edges that turn less meet along their bisector: bare crossings of nearly collinear lines are spikes of
 *  up to 18 mm. 10° gives the same within noise (own study). */
export const blendBelow: Rad = (20 * Math.PI) / 180;

/** A corner goes at most this many times the larger shift away. */
export const cornerReach = 3;

/** A change of length inside a panel that is worth a sentence: less than the width of a cut. */
export const spreadWorthSaying: Mm = 0.1;

/** Beyond this a relief dart does less harm than stretching the foam: every ring of the study's shells stayed below. */
export const spreadLimit: Mm = 0.6;

/** A part of a skin with less area, mm², is a shaving that the knife leaves anyway, not a part of a panel. */
export const shaving = 4;

/** A square cut that opens less than this on its far skin (a bend under 6° in foam of 5 mm) has to keep clear there too. */
export const shallowWedge: Mm = 0.5;

/** Area over outline of a strip of 5 mm. Square cuts of such a panel and its neighbours are held the most (`sideways`). */
export const narrowPanel: Mm = 2.5;

/**
 * What misses weigh when corners are chosen (`meetCorners`), per millimetre. Found by trial on the generated shells of
 * the corpus at 5 mm; shells that were held back show what they are worth (README of the dry fit).
 */
export const meetWeights = {
  /** Gaps where faces stay rigid; they come out larger than in the mitre model at equal weights. */
  rigid: 1.2,
  mitre: 1,
  /** About the part of the thickness from which on a gap counts for more than its square. */
  far: 0.25,
  /** An overlap counts this many times, squared; at a square cut, which nothing but its corners presses, more. */
  overlap: 2.3,
  squareOverlap: 6,
  /** Gaps on the far skin of square cuts that hardly open there (`shallowWedge`). */
  farSkin: 0.8,
  /** Differences of bent lengths: one stretch, whose ends are marked, and a whole run, whose ends have to come together.
   *  At 0.25 stretches of the helm differed by up to 2 mm, between steep folds where moves along a seam close gaps. */
  slip: 6,
  /** A stretch that ends at a corner which is held back: its length would be the first to give. */
  slipAtPin: 7.2,
  wholeSlip: 20,
  /** The same where nothing is bevelled: bringing square mates to one length opens their corners. */
  squareSlip: 0.015,
  squareWholeSlip: 1.15,
  /** Moves of both square cuts of a seam together across it, at a panel no wider than `narrowPanel`; of wider ones
   *  less, by the square of their width. */
  sideways: 1.5,
  /** Moves themselves, so that a corner goes nowhere for nothing; and moves that trim a bevel at every depth. */
  hold: 0.11,
  trim: 0.12,
  /** Moves that lean the rim of a border: only where mates from rim to rim come to one length in no other way. */
  border: 1,
  /** Where a corner is held that would go too far: as firmly as runs come to one length. Along the circle of its reach
   *  it is held so loosely that neighbours move it, and firmly enough to come to rest in a few rounds (0.3 to 8 give the
   *  same within 0.003 mm of gap; without, a corner of shell 4 came out 0.3 mm farther apart). */
  pin: 20,
  pinAlong: 3,
} as const;

/** One panel runs past another only near square corners: further off, the square cuts leave more than 0.7 of the
 *  thickness open. */
export const lapFrom: Rad = Math.PI / 4;
export const lapTo: Rad = (3 * Math.PI) / 4;
