import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Wearer } from '../../src/model';
import { placesOfWearers, readTroupe, wearerIssues, writeTroupe } from '../../src/troupe';

const idOf = (row: number) => `w${row + 1}`;
const read = (text: string, unit: 'mm' | 'in' = 'mm') => {
  const table = readTroupe(text, unit, idOf);
  if (!table.ok) throw new Error(table.issues[0]!.message);
  return table;
};
const measures = ({ girth, length, breadth, height }: Wearer) => [girth, length, breadth, height];

describe('a table of wearers', () => {
  it('is read with headings in any order and units, from commas, semicolons and tabs', () => {
    const commas = read(
      'Role,Breadth (cm),Head girth (cm)\nHarbour master,15.2,58\n"Keeper, lamp",,22 7/8 in\n',
    );
    expect(commas.issues).toEqual([]);
    expect(commas.value.map((w) => w.name)).toEqual(['Harbour master', 'Keeper, lamp']);
    expect(measures(commas.value[0]!)).toEqual([580, null, 152, null]);
    expect(measures(commas.value[1]!)[0]).toBeCloseTo(22.875 * 25.4, 9);
    const german = read('name;girth (cm);length;height\nWearer 1;58,5;195 mm;12 cm\n');
    expect(measures(german.value[0]!)).toEqual([585, 195, null, 120]);
    const pasted = read('Wearer 1\t22.5\t7.5\t6\nWearer 2\t23\n', 'in');
    expect(pasted.value.map((w) => w.name)).toEqual(['Wearer 1', 'Wearer 2']);
    expect(measures(pasted.value[0]!)).toEqual([22.5 * 25.4, 7.5 * 25.4, 6 * 25.4, null]);
    expect(read('Bell ringer,580').value).toHaveLength(1);
  });

  it('says of a cell that it cannot read whose it is and what stands there, and keeps the rest', () => {
    const table = read('name,girth\nWearer 1,58cm\nWearer 2,large\n,60 cm\n');
    expect(table.value.map((w) => w.girth)).toEqual([580, null, 600]);
    expect(table.issues).toHaveLength(1);
    expect(table.issues[0]!.message).toContain('Wearer 2: the girth “large”');
    expect(readTroupe('', 'mm', idOf)).toMatchObject({ ok: false, issues: [{ code: 'table-empty' }] });
    expect(readTroupe('name,height\nA,1\n', 'mm', idOf)).toMatchObject({
      ok: false,
      issues: [{ code: 'table-without-girth' }],
    });
    expect(readTroupe('a,580\n'.repeat(201), 'mm', idOf)).toMatchObject({
      ok: false,
      issues: [{ code: 'table-too-long' }],
    });
  });

  it('reads back as it was written', () => {
    const length = fc.option(
      fc.integer({ min: 6000, max: 90_000 }).map((n) => n / 100),
      { nil: null },
    );
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            name: fc
              .string({ minLength: 1, maxLength: 12, unit: 'grapheme' })
              .map((s) => s.replace(/[\s']+/g, ' ').trim())
              .filter((s) => s !== ''),
            girth: length.filter((g) => g !== null),
            length,
            breadth: length,
            height: length,
          }),
          { minLength: 1, maxLength: 5 },
        ),
        (rows) => {
          const wearers = rows.map((r, i) => ({ id: idOf(i), ...r }));
          const back = read(writeTroupe(wearers, 'mm'));
          expect(back.issues).toEqual([]);
          expect(back.value).toEqual(wearers);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('what is missing in it', () => {
  const wearer = (id: string, name: string, girth: number | null): Wearer => ({
    id,
    name,
    girth,
    length: null,
    breadth: null,
    height: null,
  });

  it('names the wearer, the value and what to do', () => {
    const issues = wearerIssues(
      [
        wearer('a', 'Wearer 1', 580),
        wearer('b', 'wearer 1 ', 570),
        wearer('c', '', 560),
        wearer('d', 'Bell ringer', null),
        wearer('e', 'Lamp keeper', 58),
      ],
      'mm',
    );
    expect(issues.map((i) => [i.code, i.place.ids?.[0]])).toEqual([
      ['wearer-name-twice', 'b'],
      ['wearer-without-name', 'c'],
      ['wearer-without-girth', 'd'],
      ['wearer-measure-implausible', 'e'],
    ]);
    expect(issues[1]!.message).toContain('row 3');
    for (const issue of issues) expect(issue.remedy).not.toBe('');
    expect(wearerIssues([{ ...wearer('a', 'Wearer 1', 580), breadth: 900 }], 'mm')[0]!.message).toContain(
      'breadth',
    );
  });

  it('gives every wearer a folder of their own', () => {
    const places = placesOfWearers(
      [wearer('a', 'A b', 1), wearer('b', 'A-b', 1), wearer('c', 'a b', 1)],
      (n) => n.replaceAll(' ', '-'),
    );
    expect([...places.values()]).toEqual(['A-b', 'A-b-2', 'a-b-3']);
  });
});
