import { describe, expect, it } from 'vitest';
import { type Point, point } from '../../src/math';
import { nothingKnown } from '../../src/model';
import { recutPattern } from '../../src/panels';
import { foldPattern, openingsOf } from '../../src/shell';
import { stripsOf } from '../../src/shell/strips';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { keelPattern, onKeelBracer, patternFromTruth } from '../support/harbourWatch';
import { alignedRms } from '../support/meshShell';

const onArc = (radius: number, from: number, to: number, count: number): Point[] =>
  Array.from({ length: count + 1 }, (_, i) => {
    const a = from + ((to - from) * i) / count;
    return point(radius * Math.cos(a), radius * Math.sin(a));
  });

const area = (ring: readonly Point[]) =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);

describe('strips of faces that curves bound', () => {
  it('follow the rulings of a sheet between two arcs', () => {
    const ring = [...onArc(100, 0, 1.2, 5), ...onArc(60, 1.2, 0, 5)].reverse();
    const ccw = area(ring) > 0 ? ring : [...ring].reverse();
    const strips = stripsOf(ccw);
    expect(strips.length).toBe(5);
    for (const s of strips) expect(s.length).toBe(4);
    expect(strips.reduce((sum, s) => sum + area(s.map((i) => ccw[i]!)), 0)).toBeCloseTo(area(ccw), 6);
  });

  it('leave a disc whole', () => {
    expect(stripsOf(onArc(50, 0, 2 * Math.PI, 24).slice(0, 24)).length).toBe(1);
  });

  it('let the bracer close to a sleeve, whose bends are no more than a proposal', async () => {
    const truth = keelPattern();
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    expect(shell.leftOut).toEqual([]);
    expect(shell.components.length).toBe(1);
    expect(openingsOf(shell).length).toBe(2);
    expect(shell.residual.max).toBeLessThan(0.01);
    expect(shell.faces.filter((f) => f.part !== undefined).length).toBeGreaterThan(12);
    expect(shell.quality).toBe('doubtful');
    expect(shell.issues.map((i) => i.code)).toContain('shell-bent-faces');
    // Panels that are joined or cut keep every strip, as it was folded.
    const [pattern, seams] = [patternFromTruth(truth), seamsOfTruth(truth)];
    for (const { id } of seams.seams.slice(1, 3)) {
      const cut = recutPattern(pattern, seams, shell, { edits: [{ kind: 'join', id: 'e1', lines: [id] }] });
      expect([cut.issues, cut.pattern.pieces.length]).toEqual([[], pattern.pieces.length - 1]);
      expect(cut.shell!.faces.length).toBe(shell.faces.length);
      const flat = (s: typeof shell) => s.faces.reduce((sum, f) => sum + Math.abs(area(f.flat)), 0);
      expect(flat(cut.shell!)).toBeCloseTo(flat(shell), 6);
    }
  });

  it('let the bracer come out within 0.2 % of its size once the bend of its ridge is typed', async () => {
    const truth = keelPattern();
    const want = bendsOfTruth(truth);
    const bends = { 'P1.f1': want['P1.f1']! };
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth), { ...nothingKnown, bends });
    const [got, is]: [number[], number[]] = [[], []];
    for (const face of shell.faces)
      face.vertices.forEach((v, i) => {
        const [p, q] = [shell.vertices[v]!, onKeelBracer(face.piece, face.flat[i]!)];
        got.push(p.x, p.y, p.z);
        is.push(q.x, q.y, q.z);
      });
    const off = alignedRms(Float64Array.from(got), Float64Array.from(is));
    const size = Math.hypot(
      ...[0, 1, 2].map((k) => {
        const along = is.filter((_, i) => i % 3 === k);
        return Math.max(...along) - Math.min(...along);
      }),
    );
    expect(off / size).toBeLessThan(0.002);
    // Under seams lie in one sheet, feet are valleys.
    for (const [id, bend] of Object.entries(want)) {
      expect(Math.abs(shell.bends[id]! - bend)).toBeLessThan(bend < 0 ? 0.08 : 0.02);
      if (bend < 0) expect(shell.bends[id]).toBeLessThan(-0.4);
    }
  });
});
