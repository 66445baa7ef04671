import type { Point3 } from '../math';
import type { Mm, Rad } from '../units';
import type { Plane3, ShellLoop } from './shell';

/** How the finished shell sits on its wearer. Positions in mm, axes as those of the shell: x right, y front, z up. */
export interface ShellFit {
  /** The brow section of the pattern's own shell, at the drawing's size. */
  readonly brow: BrowSection;
  /** Factor by axis on the pattern's shell: x breadth, y length, z height; all equal for one scale. */
  readonly scales: { readonly breadth: number; readonly length: number; readonly height: number };
  /** The finished shell: places of the shell's vertices, in their order, on each surface of the foam. */
  readonly surfaces: {
    readonly inside: readonly Point3[];
    readonly paper: readonly Point3[];
    readonly outside: readonly Point3[];
  };
  /** The brow section of the finished inside: what a head meets. */
  readonly insideBrow: BrowSection;
  readonly insideExtent: Point3;
  readonly outsideExtent: Point3;
  /** Null while no head is given. */
  readonly headform: Headform | null;
  readonly clearances: Clearances | null;
  /** Whether the head passes the opening that it goes through. Null without a head or an opening. */
  readonly goesOn: GoesOn | null;
}

export interface BrowSection {
  readonly plane: Plane3;
  /** As in `BrowDecision`, in force. */
  readonly at: number;
  readonly tilt: Rad;
  readonly proposed: boolean;
  /** The section as one closed line; where an opening cuts it, the tape bridges the gap. */
  readonly loop: ShellLoop;
  /** Tape pulled tight over the hull: what a maker measures. */
  readonly tautGirth: Mm;
  /** Front to back and side to side of the section. */
  readonly length: Mm;
  readonly breadth: Mm;
}

/** A smooth head-like solid, placed inside the finished shell. */
export interface Headform {
  readonly girth: Mm;
  readonly length: Mm;
  readonly breadth: Mm;
  /** Brow plane to crown. */
  readonly height: Mm;
  /** Measures that nobody gave, with where their ratio is from: one sentence each. */
  readonly assumed: readonly string[];
  readonly vertices: readonly Point3[];
  readonly triangles: readonly (readonly [number, number, number])[];
}

/** Room between headform and inside of the shell; negative where the head would be in the foam. */
export interface Clearances {
  readonly front: Mm;
  readonly back: Mm;
  readonly left: Mm;
  readonly right: Mm;
  /** Null where the shell is open above the head: then nothing is there to have room under. */
  readonly crown: Mm | null;
  readonly smallest: { readonly room: Mm; readonly at: Point3; readonly face: number };
  /** Room at each vertex of the shell, in the order of its vertices. */
  readonly ofVertex: readonly Mm[];
}

export interface GoesOn {
  readonly passes: boolean;
  /** Taut girth of the finished opening, inside. */
  readonly opening: Mm;
  /** What the head with its ease needs on the way through. */
  readonly needed: Mm;
  /** How much is missing; 0 when it passes. */
  readonly short: Mm;
  /** Vertices of the opening, in order. */
  readonly vertices: readonly number[];
  /** What would help, one sentence each. */
  readonly help: readonly string[];
}
