import { expect, test } from 'vitest';
import { defaultDecisions } from '../../src/model';
import { matchSeams } from '../../src/seams';
import { drawn, members } from './matchFamily';
import { precision, recall, scoreMatch } from './matchScore';

// What symmetry is good for: both halves together say more than each, so noise leaves nothing open but the middle.
test('a loosely drawn symmetric shell is matched as well as a clean one', () => {
  const member = members.find((m) => m.name === 'sym 480 triangles 0 #114')!;
  const of = (manner: 'clean' | 'loose') => {
    const { pattern, seams } = drawn(member.make(), manner);
    return scoreMatch(matchSeams(pattern, defaultDecisions.seams), seams);
  };
  const [clean, loose] = [of('clean'), of('loose')];
  expect(precision(loose)).toBe(1);
  expect(recall(loose)).toBeGreaterThanOrEqual(recall(clean) - 0.005);
});
