/**
 * Recognises what a file is when it is not SVG text, from its first characters. Binary files reach the program
 * decoded as text, so bytes above 127 may stand there as U+FFFD or as the Latin-1 character of the same number.
 */
import type { Finding } from './issueLog';

interface Kind {
  readonly looks: RegExp;
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

/** A pattern for the start of a file; in this form control characters may stand in it. */
const startingWith = (...parts: string[]): RegExp => new RegExp(`^${parts.join('')}`);

const saveAsSvg = 'Save or export the pattern as plain SVG and read that file.';

const kinds: readonly Kind[] = [
  {
    looks: /^\s*$/,
    code: 'file-empty',
    message: 'The file is empty.',
    remedy: 'Save the pattern again and check that it holds something.',
  },
  {
    looks: startingWith('\u001f', '[\u008b\ufffd]'),
    code: 'file-is-compressed',
    message: 'The file is a compressed SVG (svgz).',
    remedy: 'Save it as plain SVG, or unpack it with gunzip, and read that file.',
  },
  {
    looks: startingWith('PK\u0003\u0004'),
    code: 'file-is-archive',
    message: 'The file is a zip archive, not a drawing.',
    remedy: 'Unpack it and read the SVG file inside.',
  },
  {
    looks: /^\s*%PDF-/,
    code: 'file-is-pdf',
    message: 'The file is a PDF, which is not read here.',
    remedy: 'Open it in a vector drawing program, save it as plain SVG at full size, and read that file.',
  },
  {
    looks:
      /^(?:[\u0089\ufffd]PNG|GIF8[79]a|[\u00ff\ufffd][\u00d8\ufffd][\u00ff\ufffd]|BM.{4}\0|RIFF.{4}WEBP)/s,
    code: 'file-is-picture',
    message: 'The file is a picture made of pixels, which holds no lines.',
    remedy: 'Trace it to lines in a vector drawing program, check its size with a ruler, and save it as SVG.',
  },
  {
    looks: /^.{0,200}\0/s,
    code: 'file-is-binary',
    message: 'The file is not plain text in UTF-8.',
    remedy: 'If it is an SVG in UTF-16, save it again in UTF-8. If it is something else, export it as SVG.',
  },
  {
    looks: /^\s*(?:<\?xml[^>]*>\s*)?(?:<!--(?:(?!-->).)*-->\s*)*<(?:!doctype\s+html|html|head|body)[\s>]/is,
    code: 'file-is-web-page',
    message: 'The file is a web page, not a drawing.',
    remedy: 'Download the SVG file itself instead of the page that shows it.',
  },
  {
    looks: /^\s*[{[]/,
    code: 'file-is-json',
    message: 'The file is JSON, but no FOLD file, so it is no drawing.',
    remedy: 'If it is a saved project, open it as a project; otherwise read the SVG or FOLD file.',
  },
  {
    looks: /^\s*0\s+SECTION\b/,
    code: 'file-is-dxf',
    message: 'The file is a DXF, which is not read here.',
    remedy: saveAsSvg,
  },
  {
    looks: /^\s*[^<\s]/,
    code: 'file-not-svg',
    message: 'The file is not an SVG drawing: it does not start with “<”.',
    remedy: saveAsSvg,
  },
];

/** What the text is, if it can't be SVG at all; null when it may be SVG. */
export function recogniseOther(text: string): Omit<Finding, 'severity'> | null {
  const head = text.slice(0, 2000);
  for (const { looks, code, message, remedy } of kinds) {
    if (looks.test(head)) return { code, message, remedy };
  }
  return null;
}
