/** FNV-1a over UTF-16 code units, 53 bits in two lanes, as base 36. For cache keys and ids, not for security. */
export function hashText(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x1000193;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 0x01000193);
    b = Math.imul(b ^ ((c << 5) | (c >>> 3)), 0x85ebca6b);
  }
  return ((a >>> 0) * 0x200000 + ((b >>> 0) & 0x1fffff)).toString(36);
}
