/** What the Sheets step says aloud. */
import { expect, it } from 'vitest';
import { placeWords, stateWords } from '../../app/steps/sheets/sheetRows';
import type { LaidPanel } from '../../src/model';

const laid = (changes: Partial<LaidPanel> = {}): LaidPanel => ({
  ...{ panel: 'p1', copy: 0, sheet: '', sheetCopy: 0, x: 120, y: 45.25, turn: Math.PI / 8, mirrored: false },
  locked: true,
  ...changes,
});

it('where a selected panel lies, in the unit in use, or how many are selected', () => {
  expect(placeWords([], '', 'mm')).toBe('');
  expect(placeWords([laid()], 'Brow', 'mm')).toBe(
    'Panel Brow: its middle 120 mm from the left, 45.3 mm from below, turned 22.5°, locked.',
  );
  expect(placeWords([laid({ locked: false, x: 25.4 })], 'Brow', 'in')).toMatch(
    /^Panel Brow: its middle 1 in from the left, .+, free\.$/,
  );
  expect(placeWords([laid(), laid({ copy: 1, locked: false })], 'Brow', 'mm')).toBe(
    '2 panels selected, free.',
  );
});

it('that sheets are checked, while those that were laid out are not there yet', () => {
  expect(stateWords(null, null, false)).toBe('Nothing is laid out yet.');
  expect(stateWords(null, null, true)).toBe('Checking the sheets …');
});
