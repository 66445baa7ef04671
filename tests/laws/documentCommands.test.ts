/** undo∘do is the identity for the commands themselves, in random order on a bench with pieces and seams. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CommandId, commands } from '../../app/commands';
import type { Command } from '../../app/commands/command';
import { handBench } from '../commands/fixture';

const edges = ['ae0', 'ae1', 'ae2', 'ae3', 'be0', 'be1', 'be2', 'be3'];
const things = [...edges, 'af', 'bf', 'at', 'bt', 'a', 'b', '0:1:0', '0:3:0'];
const some = (from: readonly string[]) => fc.subarray([...from], { maxLength: 4 });
const cut = fc.constantFrom('bevel', 'square');
const role = fc.option(fc.constantFrom('outline', 'valley', 'notes', 'ignore'), { nil: null });
const angle = fc.option(fc.constantFrom(0.25, -0.5, 1), { nil: null });

const corner = fc.record({ edge: fc.constantFrom(...edges), end: fc.constantFrom('start', 'end') });

/** Every command that changes the document, with arguments where it takes any. */
const calls: readonly (readonly [CommandId, fc.Arbitrary<unknown>])[] = [
  ['setGroupRole', fc.record({ group: fc.constantFrom('g1', 'g2'), role })],
  ['setLineRole', fc.record({ role })],
  ['keepTabs', fc.constant(undefined)],
  ['stripTabs', fc.constant(undefined)],
  ['pairEdges', fc.constant(undefined)],
  ['pairEdges', fc.record({ a: fc.constantFrom(...edges), b: fc.constantFrom(...edges) })],
  ['unpair', fc.constant(undefined)],
  ['confirmSeams', fc.constant(undefined)],
  ['turnSeam', fc.constant(undefined)],
  ['giveMate', fc.record({ edge: fc.constantFrom(...edges), mate: fc.constantFrom(...edges) })],
  ['findRest', fc.constant(undefined)],
  ['leaveRest', fc.constant(undefined)],
  ['foldUp', fc.record({ on: fc.boolean() })],
  ['keepSymmetry', fc.record({ on: fc.boolean() })],
  ['knowDistance', fc.record({ from: corner, to: corner, length: fc.constantFrom(0, 120, 150) })],
  [
    'knowGirth',
    fc.record({ at: fc.constantFrom(0, 0.5, 2), tilt: fc.constant(0), girth: fc.constantFrom(500, 640) }),
  ],
  ['forgetKnown', fc.record({ kind: fc.constantFrom('distance', 'girth'), index: fc.constantFrom(0, 1) })],
  ['markBorder', fc.constant(undefined)],
  ['unmarkBorder', fc.constant(undefined)],
  ['setBend', fc.record({ angle })],
  ['setRoleBend', fc.record({ role: fc.constantFrom('mountain', 'valley', 'unknown', 'seam'), angle })],
  ['setPreparation', fc.record({ preparation: cut })],
  ['setPreparationForAll', fc.record({ preparation: cut })],
  ['setLapOver', fc.record({ over: fc.constantFrom('a', 'b') })],
  ['setFoldPreparation', fc.record({ preparation: fc.constantFrom('soft', 'scored', null) })],
  ['setFoldPreparationForAll', fc.record({ preparation: fc.constantFrom('soft', 'scored', 'rules') })],
  ['setPanelFoam', fc.record({ thickness: fc.constantFrom(0, 3, 10, null), panels: fc.constant(['p1']) })],
  ['measureChain', fc.constant(undefined)],
  ['typeGirth', fc.record({ length: fc.constantFrom(0, 580, 640) })],
  ['clearGirth', fc.constant(undefined)],
];

const call = fc.oneof(...calls.map(([id, args]) => args.map((a) => ({ id, args: a })))) as fc.Arbitrary<{
  id: CommandId;
  args: unknown;
}>;

describe('laws of the commands', () => {
  it('each step undone and redone is the same step; all undone is the beginning', () => {
    let changes = 0;
    fc.assert(
      fc.property(fc.array(fc.tuple(some(things), call), { minLength: 1, maxLength: 20 }), (steps) => {
        const editor = handBench();
        const get = () => editor.session.getState();
        const start = get().document;
        for (const [select, { id, args }] of steps) {
          editor.select(select);
          // A seam can be selected once there is one.
          const seam = get().results.seams?.seams[0];
          if (seam && select.length % 2 === 0) editor.select([seam.id], 'add');
          const before = get();
          const answer = (commands[id] as unknown as Command<unknown>).run(before, args);
          if (answer.kind === 'refusal') expect(answer.reason).toMatch(/\.$/);
          if (answer.kind !== 'change') continue;
          editor.decide(answer.label, answer.change, answer.select ? { select: answer.select } : {});
          const after = get();
          if (after.document === before.document) continue;
          changes++;
          expect(after.canUndo).toBe(answer.label);
          editor.undo();
          expect(get().document).toBe(before.document);
          expect(get().selection).toEqual(before.selection);
          expect(get().results.seams).toEqual(before.results.seams);
          editor.redo();
          expect(get().document).toBe(after.document);
          expect(get().results.seams).toEqual(after.results.seams);
        }
        while (get().canUndo !== null) editor.undo();
        expect(get().document).toBe(start);
      }),
      { numRuns: 150 },
    );
    expect(changes).toBeGreaterThan(200);
  });
});
