/** A project saved before patterns were folded up: opened whole, with what is new at its default, and without a word. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { defaultDecisions } from '../../src/model';
import { openProject, saveProject } from '../../src/project';
import { plainDocument } from './arbitrary';

const text = readFileSync(
  resolve(import.meta.dirname, '../corpus/projects/before-shells.girthwise.json'),
  'utf8',
);

it('opens without a finding, and is saved with everything that is new', () => {
  expect(text).not.toContain('foldUp');
  const opened = openProject(text);
  if (!opened.ok) throw new Error('refused');
  expect(opened.issues).toEqual([]);
  const { title, lengthUnit, decisions } = opened.value;
  expect([title, lengthUnit]).toEqual(['Two plates', 'in']);
  expect(decisions.fit).toEqual({
    ...defaultDecisions.fit,
    head: 575,
    girth: { kind: 'typed', length: 640 },
  });
  expect(decisions.foam.thickness).toBe(6);
  expect(decisions.foam.roleBends.seam).toBe(0.6);
  expect(decisions.seams).toEqual({ ...defaultDecisions.seams, borders: ['e1'] });
  expect(decisions.shell).toEqual(defaultDecisions.shell);
  expect(decisions.pages.half).toBe(false);
  const again = openProject(saveProject(opened.value));
  expect(again).toEqual({ ok: true, value: opened.value, issues: [] });
});

it('opens a project from before cut files and builds in the same way', () => {
  const now = JSON.parse(saveProject(plainDocument)) as {
    version: number;
    decisions: Record<string, unknown>;
  };
  const { cutting: _, build: __, ...decisions } = now.decisions;
  const opened = openProject(JSON.stringify({ ...now, version: 2, decisions }));
  expect(opened).toEqual({ ok: true, value: plainDocument, issues: [] });
});

it('opens a project from before edges and thickness of single panels in the same way', () => {
  const now = JSON.parse(saveProject(plainDocument)) as {
    decisions: { foam: Record<string, unknown> };
  };
  const {
    flush: _a,
    thicknessOf: _b,
    material: _c,
    materialOf: _d,
    flushBelow: _e,
    ...rest
  } = now.decisions.foam;
  const { lapOver: _f, foldPreparation: _g, foldPreparationOf: _h, scoreFrom: _i, ...left } = rest;
  const { scoreDepth: _j, squeeze: _k, bendTest: _l, ...foam } = left;
  expect(Object.keys(foam)).toHaveLength(11);
  const decisions = { ...now.decisions, foam };
  const opened = openProject(JSON.stringify({ ...now, version: 3, decisions }));
  expect(opened).toEqual({ ok: true, value: plainDocument, issues: [] });
});

it('opens a project from before printers, troupes and sheets in the same way', () => {
  const now = JSON.parse(saveProject(plainDocument)) as {
    decisions: { pages: Record<string, unknown>; troupe: unknown; sheets: unknown };
  };
  const { troupe: _, sheets: ___, ...decisions } = now.decisions;
  const { reach: __, ...pages } = decisions.pages;
  const opened = openProject(JSON.stringify({ ...now, version: 4, decisions: { ...decisions, pages } }));
  expect(opened).toEqual({ ok: true, value: plainDocument, issues: [] });
});

it('opens a project from before extra parts in the same way', () => {
  const now = JSON.parse(saveProject(plainDocument)) as { decisions: Record<string, unknown> };
  const { extras: _, ...decisions } = now.decisions;
  const opened = openProject(JSON.stringify({ ...now, version: 4, decisions }));
  expect(opened).toEqual({ ok: true, value: plainDocument, issues: [] });
});
