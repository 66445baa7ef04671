/** Proposals: what comes out holds every limit, is symmetric on a symmetric shell, and is fewer than before. */
import { expect, it } from 'vitest';
import { Cancelled, unwatched } from '../../src/base';
import { defaultDecisions, noEdits, type PanelProposal, type ProposalKind } from '../../src/model';
import { proposePanels, recutPattern, sheetRoom } from '../../src/panels';
import { openShell, shellPattern } from '../support/harbourWatch';
import { type Made, madeFrom } from './support';

const symmetric = madeFrom(
  shellPattern(openShell({ seed: 3, faces: 160, symmetric: true, net: 'mixed', jitter: 0 }), { seed: 3 }),
);
const lopsided = madeFrom(
  shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 }), { seed: 4 }),
);

async function proposed(made: Made, kind: ProposalKind, decisions = noEdits): Promise<PanelProposal> {
  const found = await proposePanels(made.pattern, made.seams, made.shell, decisions, kind, unwatched);
  if (!found.ok) throw new Error(found.issues[0]!.message);
  return found.value;
}

const replayed = (made: Made, { edits }: PanelProposal) =>
  recutPattern(made.pattern, made.seams, made.shell, {
    edits: edits.map((e, i) => ({ ...e, id: `e${i + 1}` })),
  });

/** Panels by their faces, to be compared whatever they are called. */
const faceSets = (panels: readonly { readonly faces: readonly string[] }[]) =>
  new Set(panels.map((p) => [...p.faces].sort().join(' ')));

it.each<[string, Made, ProposalKind]>([
  ['pieces joined, symmetric', symmetric, 'joins'],
  ['pieces joined, lopsided', lopsided, 'joins'],
  ['cut anew, symmetric', symmetric, 'anew'],
  ['cut anew, lopsided', lopsided, 'anew'],
])('%s: fewer panels and less seam, and the count is what replaying gives', async (_, made, kind) => {
  const proposal = await proposed(made, kind);
  expect(proposal.after.panels).toBeLessThan(proposal.before.panels);
  expect(proposal.after.seams).toBeLessThan(proposal.before.seams);
  const recut = replayed(made, proposal);
  expect(recut.pattern.pieces.length).toBe(proposal.after.panels);
  for (const panel of recut.panels) expect(panel.misfit).toBeLessThanOrEqual(1);
  const { reach } = noEdits.limits;
  for (const piece of recut.pattern.pieces) {
    const points = piece.outline.flatMap((e) => e.points);
    const widest = Math.max(...points.flatMap((p) => points.map((q) => Math.hypot(p.x - q.x, p.y - q.y))));
    expect(widest).toBeLessThan(reach * 1.02);
  }
  // What was chosen holds its own limits: a second look from there finds nothing more.
  const edits = proposal.edits.map((e, i) => ({ ...e, id: `e${i + 1}` }));
  const again = await proposed(made, 'joins', { ...noEdits, edits });
  expect(again.after.panels).toBeLessThanOrEqual(proposal.after.panels);
});

it('cut anew, both halves of a symmetric shell come out exactly alike', async () => {
  const proposal = await proposed(symmetric, 'anew');
  expect(proposal.symmetric).toBe(true);
  expect(proposal.beyond).toEqual([]);
  const { pairs } = symmetric.shell.symmetry!;
  const partner = new Map(pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]));
  const key = (vertices: readonly number[]) => [...vertices].sort((a, b) => a - b).join(' ');
  const faceAt = new Map(symmetric.shell.faces.map((f) => [key(f.vertices), f.face]));
  const imageOf = new Map(
    symmetric.shell.faces.map((f) => [f.face, faceAt.get(key(f.vertices.map((v) => partner.get(v)!)))!]),
  );
  const { panels } = replayed(symmetric, proposal);
  const images = panels.map((p) => ({ faces: p.faces.map((f) => imageOf.get(f)!) }));
  expect(faceSets(images)).toEqual(faceSets(panels));
});

it('splits where foam cannot follow: nothing sharper or more curved than the limits is left', async () => {
  const limits = { ...noEdits.limits, bend: 0.35, spread: 0.45, reach: 90 };
  const proposal = await proposed(lopsided, 'splits', { ...noEdits, limits });
  expect(proposal.after.panels).toBeGreaterThan(proposal.before.panels);
  expect(proposal.beyond).toEqual([]);
  const recut = replayed(lopsided, proposal);
  for (const piece of recut.pattern.pieces) {
    for (const fold of piece.folds) expect(Math.abs(recut.shell!.bends[fold.id]!)).toBeLessThanOrEqual(0.35);
    if (piece.faces.length === 1) continue;
    const points = piece.outline.flatMap((e) => e.points);
    const widest = Math.max(...points.flatMap((p) => points.map((q) => Math.hypot(p.x - q.x, p.y - q.y))));
    expect(widest).toBeLessThan(90 * 1.02);
  }
});

it('splits what is too large for the sheet of foam at hand, and says what stays too large', async () => {
  const wide = { ...noEdits, limits: { ...noEdits.limits, bend: 3, spread: 3 } };
  const sheet = { width: 60, height: 120 };
  const ask = (room: typeof sheet) =>
    proposePanels(lopsided.pattern, lopsided.seams, lopsided.shell, wide, 'splits', unwatched, room);
  const found = await ask(sheet);
  if (!found.ok) throw new Error(found.issues[0]!.message);
  expect(found.value.after.panels).toBeGreaterThan(found.value.before.panels);
  expect(found.value.beyond).toEqual([]);
  for (const piece of replayed(lopsided, found.value).pattern.pieces) {
    const points = piece.outline.flatMap((e) => e.points);
    const fits = Array.from({ length: 180 }, (_, k) => (k * Math.PI) / 180).some((a) => {
      const span = (t: number) => {
        const along = points.map((p) => p.x * Math.cos(t) + p.y * Math.sin(t));
        return Math.max(...along) - Math.min(...along);
      };
      return span(a) <= sheet.width + 1e-6 && span(a + Math.PI / 2) <= sheet.height + 1e-6;
    });
    expect(fits).toBe(true);
  }
  // A face by itself cannot be divided: told, not passed over.
  const tiny = await ask({ width: 5, height: 5 });
  if (!tiny.ok) throw new Error(tiny.issues[0]!.message);
  expect(tiny.value.beyond.length).toBeGreaterThan(0);
});

it('takes the room of the largest whole sheet of the foam in use, else of the sheet that is bought', () => {
  const { sheets, build, foam } = defaultDecisions;
  expect(sheetRoom({ ...sheets, margin: 5 }, build, { ...foam, thickness: 5 }, 1)).toEqual({
    width: build.sheet.width - 20,
    height: build.sheet.height - 20,
  });
  const sheet = (width: number, thickness: number) => ({
    ...{ id: `s${width}`, thickness, material: '', count: 1, price: null },
    shape: { kind: 'rectangle' as const, width, height: 300 },
  });
  const stock = [sheet(200, 5), sheet(400, 5), sheet(900, 10)];
  expect(sheetRoom({ stock, margin: 5 }, build, { ...foam, thickness: 5 }, 2)).toEqual({
    width: 190,
    height: 140,
  });
});

it('a wider spread makes fewer panels', async () => {
  const wide = { ...noEdits, limits: { ...noEdits.limits, spread: Math.PI / 3 } };
  const [narrow, large] = [await proposed(lopsided, 'anew'), await proposed(lopsided, 'anew', wide)];
  expect(large.after.panels).toBeLessThan(narrow.after.panels);
});

it('can be cancelled, and says why nothing is proposed without a shell', async () => {
  const stop = {
    step: async () => {
      throw new Cancelled();
    },
  };
  await expect(
    proposePanels(lopsided.pattern, lopsided.seams, lopsided.shell, noEdits, 'anew', stop),
  ).rejects.toThrow(Cancelled);
  const none = await proposePanels(lopsided.pattern, lopsided.seams, null, noEdits, 'joins', unwatched);
  expect(none).toMatchObject({ ok: false, issues: [{ code: 'proposal-without-shell' }] });
});
