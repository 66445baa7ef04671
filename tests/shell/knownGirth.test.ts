import { describe, expect, it } from 'vitest';
import { nothingKnown } from '../../src/model';
import { browPlane, closedSection, foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { openShell, patternFromTruth, shellPattern, solid } from '../support/harbourWatch';

describe('a known girth', () => {
  it('opens a shell with a window in front until the tape reads it, and stretches nothing', async () => {
    const truth = shellPattern(
      openShell({ seed: 6, faces: 160, symmetric: true, net: 'triangles', jitter: 0 }),
    );
    const pattern = patternFromTruth(truth);
    const seams = seamsOfTruth(truth);
    const plain = await foldPattern(pattern, seams);
    const before = closedSection(plain, browPlane(plain, 0.25, 0))!.tautGirth;
    const wanted = before + 5;
    const shell = await foldPattern(pattern, seams, {
      ...nothingKnown,
      girths: [{ at: 0.25, tilt: 0, girth: wanted }],
    });
    const [known] = shell.known;
    expect(known?.kind).toBe('girth');
    expect(known?.wanted).toBe(wanted);
    expect(Math.abs(known!.got - wanted)).toBeLessThan(1);
    expect(closedSection(shell, browPlane(shell, 0.25, 0))!.tautGirth).toBe(known!.got);
    expect(shell.residual.rms).toBeLessThan(0.01);
    expect(shell.issues.map((i) => i.code)).not.toContain('shell-known-missed');
  });

  it('that a rigid shell cannot have is reported', async () => {
    const truth = shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 });
    const plain = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    const before = closedSection(plain, browPlane(plain, 0.5, 0))!.tautGirth;
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth), {
      ...nothingKnown,
      girths: [{ at: 0.5, tilt: 0, girth: 300 }],
    });
    // The tape pulls softly: what it stretches shows, and stays small.
    expect(Math.abs(shell.known[0]!.got - before)).toBeLessThan(0.02 * before);
    expect(shell.issues.map((i) => i.code)).toContain('shell-known-missed');
  });
});
