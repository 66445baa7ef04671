import { expect, test } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions } from '../../src/model';
import { type FoldProbe, verifySeams } from '../../src/seams';
import { shellPattern } from '../support/harbourWatch';
import { otherShell } from '../support/otherShells';
import { drawn } from './matchFamily';
import { precision, recall, scoreMatch } from './matchScore';

const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });

// Both sides of such a strip are equally long, so it could as well be a tube: nothing tells, so the sides stay open.
test.each(['clean', 'loose'] as const)(
  'a strip drawn %s is not sewn into a tube, and the maker is asked',
  async (manner) => {
    const flatShell = shellPattern(otherShell('quad strip', 61, 125), { seed: 61, maxFaces: 8 });
    const { pattern, seams } = drawn(flatShell, manner);
    const result = await verifySeams(pattern, defaultDecisions.seams, flat, unwatched);
    const score = scoreMatch(result, seams);
    expect(score.truth).toBeGreaterThan(100);
    expect(precision(score)).toBe(1);
    expect(recall(score)).toBeGreaterThanOrEqual(0.94);
    expect(result.open.filter((o) => o.candidates.length > 0).length).toBeGreaterThan(10);
    expect(result.issues.map((i) => i.code)).toContain('edges-open-candidates');
  },
);
