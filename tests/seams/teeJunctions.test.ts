import { expect, test } from 'vitest';
import { defaultDecisions, type SeamDecisions } from '../../src/model';
import { findSeams, matchSeams } from '../../src/seams';
import { patternOf, rectangle } from './patterns';

// An open box of 70 × 40 mm: the back is two walls that meet in the middle of one edge of the bottom.
const box = (backRight = 44) => [
  rectangle('bottom', 0, 0, 70, 40),
  rectangle('front', 100, 0, 70, 50),
  rectangle('right', 200, 0, 40, 50),
  rectangle('backright', 300, 0, backRight, 50),
  rectangle('backleft', 400, 0, 26, 50),
  rectangle('left', 500, 0, 40, 50),
];
/** All seams but those along the far edge of the bottom, by hand: a box is alike all round. */
const byHand: SeamDecisions = {
  ...defaultDecisions.seams,
  made: [
    ['bottom1', 'front1'],
    ['bottom2', 'right1'],
    ['bottom4', 'left1'],
    ['front4', 'right2'],
    ['right4', 'backright2'],
    ['backright4', 'backleft2'],
    ['backleft4', 'left2'],
    ['left4', 'front2'],
  ].map(([a, b]) => ({ a: a!, b: b!, direction: 'opposed' as const })),
};

test('one long edge meets two short ones', () => {
  const result = matchSeams(patternOf(box(), {}), byHand);
  const long = result.seams.filter((s) => [s.a.edge, s.b.edge].includes('bottom3'));
  expect(long.map((s) => s.id).length).toBe(2);
  expect(new Set(result.seams.map((s) => s.id)).size).toBe(result.seams.length);
  const parts = long.map((s) => {
    const onLong = s.a.edge === 'bottom3' ? s.partA : s.partB;
    expect(s.a.edge === 'bottom3' ? s.partB : s.partA).toBeUndefined();
    const short = s.a.edge === 'bottom3' ? s.b.edge : s.a.edge;
    return { short, onLong: onLong!.map((x) => Math.round(x)) };
  });
  expect(parts.sort((p, q) => p.onLong[0]! - q.onLong[0]!)).toEqual([
    { short: 'backright1', onLong: [0, 44] },
    { short: 'backleft1', onLong: [44, 70] },
  ]);
  expect(long[0]!.reason).toMatch(/2 edges in one line/);
  expect(result.open.map((o) => o.edge)).not.toContain('bottom3');
});

test('made by hand, the parts are what the person said', () => {
  const made = [
    ...byHand.made,
    { a: 'bottom3', b: 'backright1', direction: 'opposed' as const, partA: [0, 44 / 70] as const },
    { a: 'backleft1', b: 'bottom3', direction: 'opposed' as const, partB: [44 / 70, 1] as const },
  ];
  const parts = (m: SeamDecisions['made'], find = findSeams) =>
    find(patternOf(box(), {}), { ...byHand, made: m })
      .seams.filter((s) => s.partA || s.partB)
      .map((s) => [s.a.edge, s.b.edge, s.partA?.map(Math.round) ?? s.partB?.map(Math.round), s.evidence]);
  const both = [
    ['bottom3', 'backright1', [0, 44], 'person'],
    ['bottom3', 'backleft1', [44, 70], 'person'],
  ];
  expect(parts(made)).toEqual(both);
  expect(parts(made, matchSeams)).toEqual(both);
  // A later word on the same place holds, on another place leaves it.
  const other = { a: 'left3', b: 'bottom3', direction: 'opposed' as const, partB: [0.2, 0.5] as const };
  expect(parts([...made, other]).map((p) => p[1])).toEqual(['left3', 'backleft1']);
  const whole = findSeams(patternOf(box(), {}), {
    ...byHand,
    made: [...made, { a: 'front3', b: 'bottom3', direction: 'opposed' }],
  });
  expect(whole.seams.filter((s) => s.partA || s.partB)).toEqual([]);
  expect(whole.issues.filter((i) => i.code === 'seam-made-twice')).toHaveLength(2);
});

test('what is left over of an edge is open', () => {
  const made = [
    ...byHand.made,
    { a: 'bottom3', b: 'backright1', direction: 'opposed' as const, partA: [0, 44 / 70] as const },
  ];
  for (const find of [findSeams, matchSeams]) {
    const result = find(patternOf(box(), {}), { ...byHand, made });
    expect(result.open.find((o) => o.edge === 'bottom3')).toMatchObject({
      why: 'no-evidence',
      candidates: [],
    });
    expect(result.open.map((o) => o.edge)).not.toContain('backright1');
  }
});

test('edges that are not as long together are left open', () => {
  const result = matchSeams(patternOf(box(41), {}), byHand);
  expect(result.seams.filter((s) => s.partA || s.partB)).toEqual([]);
  expect(result.open.map((o) => o.edge)).toContain('bottom3');
});
