/**
 * How much of a file is read at all. A pattern of a thousand faces has some 100 KB, 3,000 elements and 10,000 points;
 * the limits lie a hundred times above, so that only broken or hostile files meet them.
 */
export interface DrawingLimits {
  /** Length of the text in UTF-8, bytes. */
  readonly bytes: number;
  /** Elements in the file, of any kind. */
  readonly elements: number;
  /** Points and control points of all lines, uses repeated. */
  readonly points: number;
  /** Elements inside each other, uses followed. */
  readonly nesting: number;
  /** Elements drawn through `use`, in all. */
  readonly useElements: number;
}

export const defaultLimits: DrawingLimits = {
  bytes: 30_000_000,
  elements: 200_000,
  points: 2_000_000,
  nesting: 200,
  useElements: 200_000,
};
