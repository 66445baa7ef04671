import { isFoldText } from '../../src/model';
import type { TextFile } from '../document';

/** Is this text a drawing (an SVG or a FOLD file) or a saved project, or just words? Pure. */
export function pastedFile(text: string): TextFile | null {
  const start = text.trimStart();
  if (start.startsWith('<') && /<(?:[\w-]+:)?svg[\s>]/i.test(start)) return { name: 'pasted.svg', text };
  if (isFoldText(start)) return { name: 'pasted.fold', text };
  if (start.startsWith('{') && /"(?:format|version)"/.test(start.slice(0, 2000)))
    return { name: 'pasted.json', text };
  return null;
}
