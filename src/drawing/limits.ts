import type { IssueLog } from './issueLog';

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

/**
 * Refuses a text that is longer than the limit.
 * @throws ReadingStopped
 */
export function refuseTooLarge(text: string, limits: DrawingLimits, log: IssueLog): void {
  // A character has at most three bytes in UTF-8 (four for two units), so short texts need no count.
  const bytes = text.length * 3 > limits.bytes ? utf8Length(text) : text.length;
  if (bytes <= limits.bytes) return;
  log.stop({
    code: 'file-too-large',
    message: `The file has ${megabytes(bytes)} MB; at most ${megabytes(limits.bytes)} MB are read.`,
    remedy: 'Remove pictures and hidden layers in your drawing program and save it again.',
  });
}

const megabytes = (bytes: number): string => String(Math.ceil(bytes / 100_000) / 10);

/** Bytes of a text in UTF-8. */
function utf8Length(text: string): number {
  let bytes = text.length;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < 0x80) continue;
    // Two units of a surrogate pair are four bytes together.
    bytes += code < 0x800 || (code >= 0xd800 && code <= 0xdfff) ? 1 : 2;
  }
  return bytes;
}
