/** Words in class names, layer names, ids and captions that say what a line is. Every answer is only a hint. */

/** What a word speaks of. */
export type WordSense =
  | 'outline'
  | 'mountain'
  | 'valley'
  | 'fold'
  | 'tab'
  | 'hole'
  | 'frame'
  | 'legend'
  | 'notes';

/** Checked in this order: the plainer word wins ("valley fold (ridge away from you)" is a valley). */
const senses: readonly (readonly [WordSense, readonly string[]])[] = [
  ['legend', ['legend', 'key', 'keybox']],
  ['mountain', ['mountain', 'mountains', 'mtn']],
  ['valley', ['valley', 'valleys']],
  ['mountain', ['ridge', 'peak', 'hill', 'convex', 'outward', 'outwards', 'berg', 'montagne', 'monte']],
  ['valley', ['trough', 'gutter', 'dale', 'concave', 'inward', 'inwards', 'tal', 'vallee', 'valle']],
  ['tab', ['tab', 'tabs', 'flap', 'flaps', 'glue', 'gluetab', 'lug', 'lasche', 'klebelasche', 'languette']],
  [
    'fold',
    [
      'fold',
      'folds',
      'crease',
      'creases',
      'score',
      'scores',
      'scored',
      'bend',
      'bends',
      'falz',
      'pli',
      'pliegue',
    ],
  ],
  ['hole', ['hole', 'holes', 'cutout', 'opening', 'openings', 'window', 'windows', 'eyehole']],
  [
    'outline',
    [
      'cut',
      'cuts',
      'outline',
      'outlines',
      'contour',
      'contours',
      'perimeter',
      'silhouette',
      'schnitt',
      'coupe',
      'corte',
    ],
  ],
  [
    'frame',
    ['frame', 'frames', 'page', 'pages', 'sheet', 'sheets', 'paper', 'margin', 'margins', 'cropmark', 'crop'],
  ],
  [
    'notes',
    [
      'note',
      'notes',
      'number',
      'numbers',
      'label',
      'labels',
      'text',
      'texts',
      'title',
      'titles',
      'arrow',
      'arrows',
      'leader',
      'leaders',
      'dim',
      'dims',
      'dimension',
      'dimensions',
      'guide',
      'guides',
      'grid',
      'ruler',
      'scale',
      'scalebar',
      'annotation',
      'annotations',
      'caption',
      'captions',
      'decoration',
      'logo',
      'background',
    ],
  ],
];

const senseOf = new Map<string, WordSense>();
for (const [sense, words] of senses) for (const w of words) senseOf.set(w, sense);
const rank = new Map<string, number>();
senses.forEach(([, words], i) => {
  for (const w of words) rank.set(w, i);
});

/** Words that hardly anything but lines is named after. */
const plainWords = new Set(
  [
    'legend',
    'mountain',
    'valley',
    'tab',
    'flap',
    'fold',
    'crease',
    'cut',
    'outline',
    'contour',
    'hole',
    'note',
    'number',
    'label',
    'text',
    'annotation',
    'dimension',
    'guide',
    'arrow',
  ].flatMap((w) => [w, `${w}s`]),
);

export const isPlainLineWord = (word: string): boolean => plainWords.has(word);

/**
 * Words in a name: split at capitals, digits and signs; lower case. A lone m or v beside a word for folds stands for
 * mountain or valley ("fold-m").
 */
export function wordsIn(name: string): string[] {
  const parts = name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-zà-ÿ]+/);
  const words = parts.filter((w) => w.length > 1);
  if (words.some((w) => senseOf.get(w) === 'fold'))
    for (const [letter, word] of [
      ['m', 'mountain'],
      ['v', 'valley'],
    ] as const)
      if (parts.includes(letter)) words.push(word);
  return words;
}

/** The first sense by rank among the words of the names, with the word that gave it. */
export function senseIn(
  names: readonly string[],
): { readonly sense: WordSense; readonly word: string } | null {
  let best: string | null = null;
  for (const name of names)
    for (const word of wordsIn(name))
      if (rank.has(word) && (best === null || rank.get(word)! < rank.get(best)!)) best = word;
  return best === null ? null : { sense: senseOf.get(best)!, word: best };
}

/** All words with a sense, in order, once each. */
export function roleWordsIn(names: readonly string[]): string[] {
  return [...new Set(names.flatMap(wordsIn).filter((w) => senseOf.has(w)))];
}
