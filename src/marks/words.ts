/** "Seam 4 is", "Seams 4, 9 and 12 are", "Seams 1, 2, 3 and 40 more are". */
export function listNumbers(what: string, numbers: readonly number[]): string {
  if (numbers.length === 1) return `${what} ${numbers[0]} is`;
  if (numbers.length > longestList) {
    const shown = numbers.slice(0, longestList - 1);
    return `${what}s ${shown.join(', ')} and ${numbers.length - shown.length} more are`;
  }
  return `${what}s ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)} are`;
}

const longestList = 12;
