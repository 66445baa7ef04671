/** The words of the findings that are counted per kind: what was met, and what becomes of it. */
import type { Severity } from '../base';

interface Words {
  readonly severity: Severity;
  /** After the number, for one and for several. */
  readonly one: string;
  readonly many: string;
  readonly remedy: string;
}

/** Kinds in the order in which they are told; the key is the issue's code. */
const table = {
  'lines-without-stroke': {
    severity: 'note',
    one: 'line has neither stroke nor fill (or a stroke of no width), so it can’t be seen and is left out',
    many: 'lines have neither stroke nor fill (or a stroke of no width), so they can’t be seen and are left out',
    remedy: 'If a line is missing, give it a stroke in your drawing program and read the file again.',
  },
  'lines-hidden': {
    severity: 'note',
    one: 'drawn element is hidden in the file and is left out',
    many: 'drawn elements are hidden in the file and are left out',
    remedy: 'If a part is missing, show its layer in your drawing program and save again.',
  },
  'clip-path': {
    severity: 'note',
    one: 'element is clipped; it is read whole',
    many: 'elements are clipped; they are read whole',
    remedy: 'If lines stick out past a clipped edge, cut them in your drawing program.',
  },
  mask: {
    severity: 'note',
    one: 'element is masked; it is read whole',
    many: 'elements are masked; they are read whole',
    remedy: '',
  },
  filter: {
    severity: 'note',
    one: 'element has a filter effect, which is left out',
    many: 'elements have filter effects, which are left out',
    remedy: '',
  },
  marker: {
    severity: 'note',
    one: 'line has markers (arrow heads or dots), which are left out',
    many: 'lines have markers (arrow heads or dots), which are left out',
    remedy: '',
  },
  'paint-server': {
    severity: 'note',
    one: 'stroke or fill is a gradient or pattern; it is taken as plain black',
    many: 'strokes or fills are gradients or patterns; they are taken as plain black',
    remedy: '',
  },
  image: {
    severity: 'note',
    one: 'picture in the file is not read: pictures hold no lines',
    many: 'pictures in the file are not read: pictures hold no lines',
    remedy: 'If the pattern itself is a picture, trace it to lines first.',
  },
  'foreign-object': {
    severity: 'note',
    one: 'block of web-page content (foreignObject) is left out',
    many: 'blocks of web-page content (foreignObject) are left out',
    remedy: 'If numbers are missing, write them as plain text in your drawing program.',
  },
  animation: {
    severity: 'note',
    one: 'animation is left out; the drawing is read as it stands before it starts',
    many: 'animations are left out; the drawing is read as it stands before they start',
    remedy: '',
  },
  script: {
    severity: 'note',
    one: 'script in the file is left out and never run',
    many: 'scripts in the file are left out and never run',
    remedy: '',
  },
  'event-handler': {
    severity: 'note',
    one: 'event handler in the file is left out and never run',
    many: 'event handlers in the file are left out and never run',
    remedy: '',
  },
  'external-reference': {
    severity: 'warning',
    one: 'reference to another file or address is not followed',
    many: 'references to other files or addresses are not followed',
    remedy: 'If something is missing, embed it in the drawing before saving.',
  },
  'text-path-missing': {
    severity: 'warning',
    one: 'text follows a path that is not in the file and is left out',
    many: 'texts follow paths that are not in the file and are left out',
    remedy: 'Write the number as plain text and read the file again.',
  },
  'vertical-text': {
    severity: 'note',
    one: 'text runs vertically; it is read as if it ran across',
    many: 'texts run vertically; they are read as if they ran across',
    remedy: '',
  },
  'css-rule-skipped': {
    severity: 'note',
    one: 'block of the style sheet (@-rule or nested rule) is skipped',
    many: 'blocks of the style sheet (@-rules or nested rules) are skipped',
    remedy: 'If lines look different from your drawing program, set their style on the lines themselves.',
  },
  'css-selector-skipped': {
    severity: 'note',
    one: 'style rule is skipped because its selector is not understood',
    many: 'style rules are skipped because their selectors are not understood',
    remedy: 'If lines look different from your drawing program, set their style on the lines themselves.',
  },
  'css-value-skipped': {
    severity: 'note',
    one: 'style value is not understood and is ignored',
    many: 'style values are not understood and are ignored',
    remedy: 'If lines look different from your drawing program, write the value plainly.',
  },
  'colour-approximated': {
    severity: 'note',
    one: 'colour is written in a way that is not read; it is taken as black',
    many: 'colours are written in a way that is not read; they are taken as black',
    remedy: '',
  },
  'transform-skipped': {
    severity: 'warning',
    one: 'transform is not understood and is ignored',
    many: 'transforms are not understood and are ignored',
    remedy:
      'Apply the transform in your drawing program and save again: the part may lie in the wrong place.',
  },
  'prefix-unbound': {
    severity: 'repaired',
    one: 'name prefix is not declared in the file; its usual meaning is assumed',
    many: 'name prefixes are not declared in the file; their usual meaning is assumed',
    remedy: '',
  },
  'unknown-element': {
    severity: 'note',
    one: 'element is unknown in SVG and is left out',
    many: 'elements are unknown in SVG and are left out',
    remedy: '',
  },
  'outside-page': {
    severity: 'note',
    one: 'line lies wholly outside the page of the drawing; it is read all the same',
    many: 'lines lie wholly outside the page of the drawing; they are read all the same',
    remedy: 'Delete it in your drawing program if it is not part of the pattern.',
  },
} as const satisfies Record<string, Words>;

export type CountedKind = keyof typeof table;

export const countedKinds = Object.keys(table) as readonly CountedKind[];

/** The finding for a count of a kind, with up to three examples of what was met. */
export function wordsFor(kind: CountedKind, count: number, examples: readonly string[]) {
  const words: Words = table[kind];
  const what = examples.length > 0 ? ` (${examples.map((e) => `“${shorten(e)}”`).join(', ')})` : '';
  return {
    code: kind,
    severity: words.severity,
    message: `${count} ${count === 1 ? words.one : words.many}${what}.`,
    remedy: words.remedy,
  };
}

/** A quotation from the file that fits into a sentence. */
export function shorten(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > 40 ? `${line.slice(0, 37)}…` : line;
}
