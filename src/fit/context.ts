/** Where a head girth stands among measured heads. Says what is usual; never refuses. */
import type { FitContext } from '../model';
import { formatLength, type Mm } from '../units';
import { adultGirths, adultSource, childGirths, childSource, type GirthTable } from './headFigures';

/** Percentile by linear interpolation in a published table; null below its first or beyond its last entry. */
export function percentileIn(table: GirthTable, girth: Mm): number | null {
  const rows = table.percentiles;
  for (let k = 1; k < rows.length; k++) {
    const [low, from] = rows[k - 1]!;
    const [high, to] = rows[k]!;
    if (girth >= from && girth <= to) return low + ((high - low) * (girth - from)) / (to - from);
  }
  return null;
}

/** The context of a head girth: adults, and children where it is small. `unusual`: outside the 1st to 99th percentile
 *  of both men and women. */
export function headContext(head: Mm): FitContext {
  const tables = [adultGirths.men, adultGirths.women];
  const placed = tables.map((table) => ({ table, percentile: percentileIn(table, head) }));
  if (placed.every(({ percentile }) => percentile === null)) return unusualContext(head);
  const parts = placed.map(({ table, percentile }) => {
    const people = `${grouped(table.count)} ${table.people}`;
    if (percentile !== null) return `about the ${ordinal(Math.round(percentile))} percentile of ${people}`;
    return head < table.percentiles[0]![1] ? `below 99 % of ${people}` : `above 99 % of ${people}`;
  });
  const sentence = `${capital(parts.join(' and '))} measured.`;
  return { sentence, source: adultSource, unusual: false };
}

function unusualContext(head: Mm): FitContext {
  const adults = grouped(adultGirths.men.count + adultGirths.women.count);
  if (head > adultGirths.men.percentiles.at(-1)![1]) {
    return {
      sentence: `Larger than 99 % of ${adults} adults measured.`,
      source: adultSource,
      unusual: true,
    };
  }
  const ages = childGirths.filter(({ boys, girls }) => head >= girls[0] && head <= boys[2]);
  const small = `Smaller than 99 % of ${adults} adults measured`;
  if (ages.length === 0) return { sentence: `${small}.`, source: adultSource, unusual: true };
  const last = childGirths.at(-1)!;
  const child = ages.includes(last)
    ? `within the middle 94 % of children of 5 years, whose median is ${formatLength(last.girls[1], 'mm')} for girls and ${formatLength(last.boys[1], 'mm')} for boys`
    : `within the middle 94 % of children of ${ageOf(ages[0]!.months)} to ${ageOf(ages.at(-1)!.months)}`;
  return { sentence: `${small}, but ${child}.`, source: `${adultSource}; ${childSource}`, unusual: true };
}

const ageOf = (months: number): string => (months < 24 ? `${months} months` : `${months / 12} years`);

/** 4082 as "4,082". */
const grouped = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ',');

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** 1st, 2nd, 3rd, 4th, 11th … */
function ordinal(n: number): string {
  const teen = n % 100 >= 11 && n % 100 <= 13;
  const ending = teen ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th');
  return `${n}${ending}`;
}
