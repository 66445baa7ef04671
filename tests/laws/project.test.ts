/** read(write(x)) = x for the project file, and no damage that throws or passes unsaid. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openProject, saveProject } from '../../src/project';
import { anyDocument } from '../project/arbitrary';

describe('laws of the project file', () => {
  it('opens what it saved as the very same document, without a finding', () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        const opened = openProject(saveProject(document));
        expect(opened).toEqual({ ok: true, value: document, issues: [] });
      }),
      { numRuns: 300 },
    );
  });

  it('saves the same text again after opening', () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        const text = saveProject(document);
        const opened = openProject(text);
        expect(opened.ok && saveProject(opened.value)).toBe(text);
      }),
      { numRuns: 100 },
    );
  });

  it('says so wherever a file is cut off, and never throws', () => {
    fc.assert(
      fc.property(anyDocument, fc.double({ min: 0, max: 1, noNaN: true }), (document, where) => {
        const text = saveProject(document).trimEnd();
        const cut = text.slice(0, Math.floor((text.length - 1) * where));
        const opened = openProject(cut);
        expect(opened.issues.length).toBeGreaterThan(0);
        for (const issue of opened.issues) expect(issue.message.length).toBeGreaterThan(20);
      }),
      { numRuns: 300 },
    );
  });

  it('opens whole what stands on the lines before and after a spoilt line', () => {
    fc.assert(
      fc.property(
        anyDocument,
        fc.constantFrom('thickness', 'kerf', 'percent', 'margin'),
        (document, name) => {
          const lines = saveProject(document).split('\n');
          const at = lines.findIndex((l) => l.includes(`"${name}":`));
          lines[at] = lines[at]!.replace(/: .*/, ': %%,');
          const opened = openProject(lines.join('\n'));
          if (!opened.ok) throw new Error(opened.issues.map((i) => i.message).join('\n'));
          const places = opened.issues.map((i) => i.place.source?.line).filter((n) => n !== undefined);
          expect(places).toEqual([at + 1]);
          expect(opened.issues.map((i) => i.code)).toEqual(['project-damaged', 'project-value-replaced']);
          expect(opened.value.sources).toEqual(document.sources);
          expect(opened.value.decisions.seams).toEqual(document.decisions.seams);
          expect(opened.value.decisions.marks).toEqual(document.decisions.marks);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('takes any spoilt character without throwing', () => {
    fc.assert(
      fc.property(
        anyDocument,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom('{', '}', '[', ']', '"', ',', ':', '\\', '\n', 'x', '9'),
        (document, where, spoil) => {
          const text = saveProject(document);
          const at = Math.floor((text.length - 1) * where);
          const opened = openProject(text.slice(0, at) + spoil + text.slice(at + 1));
          if (opened.ok) expect(opened.value.sources.length).toBeGreaterThan(0);
          else expect(opened.issues.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 500 },
    );
  });
});
