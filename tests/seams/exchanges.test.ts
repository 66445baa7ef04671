import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions, type Seam } from '../../src/model';
import { type FoldProbe, verifySeams } from '../../src/seams';
import { edgeProbe, rememberFolds } from '../../src/shell';
import { openShell, shellPattern } from '../support/harbourWatch';
import { drawn } from './matchFamily';

// Two quads of this shell are mirror twins and nearly their own mirror images: their edges agree within the noise of a
// loose drawing, and lengths favour the wrong places.
const made = openShell({ seed: 13, faces: 70, symmetric: true, net: 'quads', jitter: 0 });
const { pattern, seams } = drawn(shellPattern(made, { seed: 13, darts: false, maxFaces: 4 }), 'loose');
const shell = edgeProbe(pattern, rememberFolds());
const wrongOf = (found: readonly Seam[]) => found.filter((s) => !seams.includes(s.id));

describe('pieces that could change places', () => {
  it('stay where they strain the folded shell least', async () => {
    const result = await verifySeams(pattern, defaultDecisions.seams, shell, unwatched);
    expect(wrongOf(result.seams)).toEqual([]);
    expect(result.seams).toHaveLength(seams.length);
  });

  it('are named with both chances where the shell tells nothing', async () => {
    const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });
    const result = await verifySeams(pattern, defaultDecisions.seams, flat, unwatched);
    const wrong = wrongOf(result.seams);
    expect(wrong.length).toBeGreaterThan(0);
    const said = result.issues.find((i) => i.code === 'pieces-alike')!;
    expect(said.message).toMatch(/[A-Z]+ and [A-Z]+ \(\d+ to \d+\)/);
    for (const seam of wrong) {
      expect(said.place.ids).toContain(seam.a.edge);
      expect(result.seams.find((s) => s.id === seam.id)!.reason).toMatch(/fit exchanged as well/);
    }
  });

  it('stay where the person put them', async () => {
    const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });
    const first = await verifySeams(pattern, defaultDecisions.seams, flat, unwatched);
    const [wrong] = wrongOf(first.seams);
    const [a, b] = seams.find((s) => s.includes(wrong!.id.split('+')[0]!))!.split('+') as [string, string];
    const told = { ...defaultDecisions.seams, made: [{ a, b, direction: 'opposed' as const }] };
    const result = await verifySeams(pattern, told, shell, unwatched);
    expect(result.seams.map((s) => s.id)).toContain(seams.find((s) => s === `${a}+${b}`));
    expect(wrongOf(result.seams)).toEqual([]);
  });
});
