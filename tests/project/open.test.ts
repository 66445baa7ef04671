import { describe, expect, it } from 'vitest';
import { defaultDecisions } from '../../src/model';
import { openProject, projectVersion, saveProject } from '../../src/project';
import { migrate } from '../../src/project/version';
import { plainDocument } from './arbitrary';

type Json = Record<string, unknown>;

/** The saved plain document, changed as data. */
function changed(change: (file: Json & { decisions: Record<string, Json> }) => void): string {
  const file = JSON.parse(saveProject(plainDocument)) as Json & { decisions: Record<string, Json> };
  change(file);
  return JSON.stringify(file);
}

function opened(text: string) {
  const outcome = openProject(text);
  if (!outcome.ok) throw new Error(outcome.issues.map((i) => i.message).join('\n'));
  return outcome;
}

describe('saving', () => {
  it('sorts keys at every depth and ends with a newline', () => {
    const text = saveProject(plainDocument);
    const keys = [...text.matchAll(/^ {2}"(\w+)"/gm)].map((m) => m[1]);
    expect(keys).toEqual(['decisions', 'format', 'lengthUnit', 'sources', 'title', 'version']);
    expect(text.endsWith('}\n')).toBe(true);
    expect(text).toContain('"format": "girthwise-project"');
    const foam = text.slice(text.indexOf('"foam"'), text.indexOf('"marks"'));
    const names = [...foam.matchAll(/^ {6}"(\w+)"/gm)].map((m) => m[1]!);
    expect(names).toEqual([...names].sort());
    expect(names.length).toBe(Object.keys(defaultDecisions.foam).length);
  });
});

describe('opening a damaged project', () => {
  it('gives line and column of a syntax fault and keeps the rest', () => {
    const text = saveProject({ ...plainDocument, title: 'Keel bracer' }).replace(
      '"kerf": 0,',
      '"kerf": 0 0,',
    );
    const line = text.split('\n').findIndex((l) => l.includes('"kerf": 0 0')) + 1;
    const outcome = opened(text);
    expect(outcome.issues[0]).toMatchObject({
      code: 'project-damaged',
      severity: 'repaired',
      place: { source: { line, column: text.split('\n')[line - 1]!.indexOf('0 0') + 3 } },
    });
    expect(outcome.value.title).toBe('Keel bracer');
    expect(outcome.value.sources).toEqual(plainDocument.sources);
  });

  it('keeps the sources when the file ends too early in the title', () => {
    const text = saveProject(plainDocument);
    const outcome = opened(text.slice(0, text.indexOf('Gannet helm"') + 4));
    expect(outcome.value.sources).toEqual(plainDocument.sources);
    expect(outcome.value.title).toBe('Untitled');
    expect(outcome.issues.map((i) => i.code)).toContain('project-damaged');
  });

  it('refuses a file cut off before its pattern, and says that', () => {
    const text = saveProject(plainDocument);
    const outcome = openProject(text.slice(0, text.indexOf('"sources"')));
    expect(outcome.ok).toBe(false);
    expect(outcome.issues.at(-1)?.code).toBe('project-without-pattern');
  });

  it('replaces a bad value by the usual one and names its path', () => {
    const outcome = opened(
      changed((f) => {
        f.decisions.foam!.thickness = 'thick';
        f.decisions.pages!.paper = 'A0';
        f.decisions.fit!.head = -5;
      }),
    );
    expect(outcome.value.decisions).toEqual(defaultDecisions);
    const told = outcome.issues.map((i) => i.message);
    expect(told).toHaveLength(3);
    for (const path of ['decisions.foam.thickness', 'decisions.pages.paper', 'decisions.fit.head']) {
      expect(told.filter((m) => m.includes(path))).toHaveLength(1);
    }
    expect(told.join()).toContain('"thick"');
  });

  it('drops single bad entries and keeps the good ones', () => {
    const outcome = opened(
      changed((f) => {
        f.decisions.foam!.bends = { f1: 0.5, f2: 'steep', f3: -0.25 };
        f.decisions.seams!.made = [{ a: 'e1', b: 'e2', direction: 'opposed' }, { a: 'e3' }];
      }),
    );
    expect(outcome.value.decisions.foam.bends).toEqual({ f1: 0.5, f3: -0.25 });
    expect(outcome.value.decisions.seams.made).toEqual([{ a: 'e1', b: 'e2', direction: 'opposed' }]);
    expect(outcome.issues.map((i) => i.message.split(' ')[3])).toEqual([
      'decisions.seams.made[1]',
      'decisions.foam.bends.f2',
    ]);
  });

  it('fills in missing sections', () => {
    const outcome = opened(
      changed((f) => {
        delete (f.decisions as Json).marks;
        f.decisions.foam!.thickness = 8;
      }),
    );
    expect(outcome.value.decisions.marks).toEqual(defaultDecisions.marks);
    expect(outcome.value.decisions.foam.thickness).toBe(8);
    expect(outcome.issues).toHaveLength(1);
  });

  it('leaves unknown entries out with one note, at any depth', () => {
    const outcome = opened(
      changed((f) => {
        f.colour = 'blue';
        f.decisions.foam!.glitter = 3;
        f.decisions.seams!.made = [{ a: 'e1', b: 'e2', direction: 'along', why: 'x' }];
      }),
    );
    expect(outcome.issues).toHaveLength(1);
    expect(outcome.issues[0]).toMatchObject({ code: 'project-field-unknown', severity: 'note' });
    for (const path of ['colour', 'decisions.foam.glitter', 'decisions.seams.made[0].why']) {
      expect(outcome.issues[0]!.message).toContain(path);
    }
    expect('glitter' in outcome.value.decisions.foam).toBe(false);
  });
});

describe('what is not a project of this version', () => {
  it('refuses a newer version without touching it', () => {
    const outcome = openProject(changed((f) => Object.assign(f, { version: projectVersion + 1 })));
    expect(outcome.ok).toBe(false);
    expect(outcome.issues[0]?.code).toBe('project-newer');
    expect(outcome.issues[0]?.message).toContain(String(projectVersion + 1));
  });

  it('reads a file without a version and says so', () => {
    const outcome = opened(changed((f) => delete f.version));
    expect(outcome.issues.map((i) => i.code)).toEqual(['project-version-missing']);
  });

  it('reads a file with an impossible version as this one and says so', () => {
    const outcome = opened(changed((f) => Object.assign(f, { version: 0.5 })));
    expect(outcome.issues.map((i) => i.code)).toEqual(['project-version-missing']);
  });

  it('migrates step by step and stops where a step is missing', () => {
    const steps = {
      1: (f: Readonly<Json>) => ({ ...f, one: true }),
      2: (f: Readonly<Json>) => ({ ...f, two: f.one }),
    };
    expect(migrate({}, 1, 3, steps)).toEqual({ one: true, two: true });
    expect(migrate({}, 2, 3, steps)).toEqual({ two: undefined });
    expect(migrate({}, 3, 3, steps)).toEqual({});
    expect(migrate({}, 1, 4, steps)).toBeNull();
  });

  it.each([
    ['', 'project-not-json'],
    ['<svg/>', 'project-not-json'],
    ['[]', 'project-not-json'],
    ['{"format": "other"}', 'project-not-ours'],
    ['{}', 'project-not-ours'],
  ])('refuses %j', (text, code) => {
    const outcome = openProject(text);
    expect(outcome.ok).toBe(false);
    expect(outcome.issues[0]?.code).toBe(code);
  });

  it('survives deep nesting', () => {
    const outcome = openProject(`${'['.repeat(100_000)}x`);
    expect(outcome.ok).toBe(false);
  });

  it('does not let an entry named __proto__ change anything else', () => {
    const text = saveProject(plainDocument).replace('"bends": {}', '"bends": {"__proto__": 1, "f1": 0.5}');
    const outcome = opened(text);
    expect(outcome.value.decisions.foam.bends.f1).toBe(0.5);
    expect(Object.getPrototypeOf(outcome.value.decisions.foam.bends)).toBe(Object.prototype);
  });
});
