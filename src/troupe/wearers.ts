/** What is wrong with a wearer of the table: who, which value, what to do. */
import type { Issue } from '../base';
import type { Wearer } from '../model';
import { formatLength, type Mm } from '../units';
import { leastGirth, leastMeasure, mostGirth, mostMeasure } from './tolerance';

type Measure = 'girth' | 'length' | 'breadth' | 'height';
const measures: readonly Measure[] = ['girth', 'length', 'breadth', 'height'];

/** How a wearer is spoken of: by name, or by place in the table from 1. */
const spoken = (wearer: Wearer, place: number) =>
  wearer.name.trim() === '' ? `Wearer in row ${place}` : wearer.name.trim();

/**
 * Findings of every wearer, in the order of the table; errors are what nothing can be made of. The wearer's id stands
 * in the issue's place.
 */
export function wearerIssues(wearers: readonly Wearer[], unit: 'mm' | 'in'): readonly Issue[] {
  const first = new Map<string, number>();
  return wearers.flatMap((wearer, i) => {
    const who = spoken(wearer, i + 1);
    const issues: Issue[] = [];
    const say = (code: string, message: string, remedy: string) =>
      issues.push({
        code,
        severity: 'error',
        stage: 'project',
        message: `${who}: ${message}`,
        remedy,
        place: { ids: [wearer.id] },
      });
    const name = wearer.name.trim().toLowerCase();
    if (name === '') say('wearer-without-name', 'there is no name.', 'Type a name; files are called by it.');
    else if (first.has(name))
      say(
        'wearer-name-twice',
        `row ${first.get(name)} has the same name.`,
        'Give each wearer a name of their own; files are called by it.',
      );
    else first.set(name, i + 1);
    if (wearer.girth === null)
      say(
        'wearer-without-girth',
        'the head girth is missing.',
        'Measure round the head above the brows and type it.',
      );
    for (const measure of measures) {
      const value = wearer[measure];
      if (value !== null) issues.push(...unlikely(measure, value, who, wearer.id, unit));
    }
    return issues;
  });
}

function unlikely(measure: Measure, value: Mm, who: string, id: string, unit: 'mm' | 'in'): Issue[] {
  const [least, most] = measure === 'girth' ? [leastGirth, mostGirth] : [leastMeasure, mostMeasure];
  if (value >= least && value <= most) return [];
  const factor = [10, 25.4, 0.1, 1 / 25.4].find((f) => value * f >= least && value * f <= most);
  return [
    {
      code: 'wearer-measure-implausible',
      severity: 'error',
      stage: 'project',
      message: `${who}: a ${measure} of ${formatLength(value, unit)} is no head’s.`,
      remedy: factor
        ? `Type it with its unit, such as ${formatLength(value * factor, 'mm')}; it goes from ${formatLength(least, unit)} to ${formatLength(most, unit)}.`
        : `Measure again; it goes from ${formatLength(least, unit)} to ${formatLength(most, unit)}.`,
      place: { ids: [id] },
    },
  ];
}

/** Folder of each wearer by id: the name as a file name, told apart by number where two would be the same. */
export function placesOfWearers(
  wearers: readonly Wearer[],
  stem: (name: string) => string,
): ReadonlyMap<string, string> {
  const taken = new Set<string>();
  const places = new Map<string, string>();
  for (const wearer of wearers) {
    const wanted = stem(wearer.name);
    let place = wanted;
    for (let n = 2; taken.has(place.toLowerCase()); n++) place = `${wanted}-${n}`;
    taken.add(place.toLowerCase());
    places.set(wearer.id, place);
  }
  return places;
}
