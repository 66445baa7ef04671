/** References inside a file: `href` (which wins) and the older `xlink:href`. Nothing outside the file is followed. */
import type { ReadContext } from './readContext';
import type { XmlNode } from './xmlTree';

/** The reference as written; undefined when there is none. */
export function writtenReference(node: XmlNode): string | undefined {
  return (node.attributes.href ?? node.attributes['xlink:href'])?.trim();
}

/** The element referred to; undefined when there is none, or when it lies outside the file (which is counted). */
export function referenced(context: ReadContext, node: XmlNode): XmlNode | undefined {
  const reference = writtenReference(node);
  if (reference === undefined || reference === '') return undefined;
  if (!reference.startsWith('#')) {
    context.log.count('external-reference', node.offset, reference);
    return undefined;
  }
  const id = reference.slice(1);
  return context.tree.byId.get(id) ?? context.tree.byId.get(decoded(id));
}

function decoded(id: string): string {
  try {
    return decodeURIComponent(id);
  } catch {
    // A lone “%” is no escape: the id stands as written.
    return id;
  }
}
