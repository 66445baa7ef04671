import { describe, expect, it } from 'vitest';
import { startAutosave } from '../../app/document/autosave';
import { createDocuments, freshId, isProject, titleOf } from '../../app/document/documents';
import { exportName } from '../../app/document/download';
import { createEditor } from '../../app/document/editor';
import { memoryLibrary } from '../../app/document/library';
import { defaultDecisions } from '../../src/model';
import { saveProject } from '../../src/project';
import { plainDocument } from '../project/arbitrary';

/** A desk with a reader that takes every text that begins like an SVG. */
function desk(taken: readonly string[] = []) {
  const editor = createEditor(() => 0);
  const library = memoryLibrary();
  const autosave = startAutosave(editor, library, { set: () => 0, clear: () => {}, today: () => 0 });
  let ids = 0;
  const held: string[] = [];
  const documents = createDocuments({
    editor,
    library,
    autosave,
    check: async (sources) =>
      sources.map((s) => ({
        name: s.name,
        readable: s.svg.startsWith('<svg'),
        issues: s.svg.startsWith('<svg')
          ? []
          : [
              {
                code: 'not-svg',
                severity: 'error' as const,
                stage: 'drawing' as const,
                message: `${s.name} is not SVG.`,
                remedy: 'Open an SVG.',
                place: {},
              },
            ],
      })),
    lengthUnit: () => 'in',
    newId: () => `d${++ids}`,
    hold: async (id) => {
      if (taken.includes(id)) return false;
      held.push(id);
      return true;
    },
    release: () => {
      held.length = 0;
    },
  });
  const now = () => editor.session.getState();
  return { editor, library, autosave, documents, now, held };
}

const svg = (name: string) => ({ name, text: '<svg/>' });
const bad = (name: string) => ({ name, text: 'hello' });
const project = { name: 'helm.girthwise.json', text: saveProject({ ...plainDocument, title: 'Saved helm' }) };

describe('opening files', () => {
  it('makes a new document of patterns, with usual decisions and the remembered unit', async () => {
    const { documents, now } = desk();
    expect(await documents.openFiles([svg('gannet_helm.svg'), svg('page 2.svg')])).toBe(true);
    expect(now().document).toEqual({
      title: 'gannet helm',
      sources: [
        { name: 'gannet_helm.svg', svg: '<svg/>' },
        { name: 'page 2.svg', svg: '<svg/>' },
      ],
      decisions: defaultDecisions,
      lengthUnit: 'in',
    });
    expect(now().documentId).toBe('d1');
  });

  it('leaves the open document untouched when nothing can be read', async () => {
    const { documents, now } = desk();
    await documents.openFiles([svg('helm.svg')]);
    const before = now().document;
    expect(await documents.openFiles([bad('notes.txt')])).toBe(false);
    expect(now().document).toBe(before);
    expect(now().notice).toMatchObject({ title: 'notes.txt can’t be read' });
    expect(now().notice?.issues[0]?.message).toBe('notes.txt is not SVG.');
  });

  it('opens what can be read and tells of the rest', async () => {
    const { documents, now } = desk();
    expect(await documents.openFiles([bad('a.txt'), svg('helm.svg'), bad('b.txt')])).toBe(true);
    expect(now().document?.title).toBe('helm');
    expect(now().notice?.issues).toHaveLength(2);
  });

  it('opens a project file, and refuses a damaged one without closing the open document', async () => {
    const { documents, now } = desk();
    expect(await documents.openFiles([project])).toBe(true);
    expect(now().document?.title).toBe('Saved helm');
    const before = now().document;
    expect(await documents.openFiles([{ name: 'x.json', text: '{"format": 3' }])).toBe(false);
    expect(now().document).toBe(before);
    expect(now().notice?.title).toBe('x.json can’t be opened');
  });

  it('tells of repairs to a project', async () => {
    const { documents, now } = desk();
    await documents.openFiles([{ ...project, text: project.text.replace('"kerf": 0', '"kerf": "wide"') }]);
    expect(now().document?.decisions.foam.kerf).toBe(0);
    expect(now().notice?.title).toContain('with repairs');
  });

  it('adds pages as one undo step, and never a project as a page', async () => {
    const { documents, editor, now } = desk();
    await documents.openFiles([svg('helm.svg')]);
    expect(await documents.addFiles([svg('2.svg'), svg('3.svg')])).toBe(true);
    expect(now().document?.sources).toHaveLength(3);
    expect(now().canUndo).toBe('Add 2 pages');
    expect(await documents.addFiles([project])).toBe(false);
    expect(now().notice?.issues[0]?.code).toBe('project-as-page');
    editor.undo();
    expect(now().document?.sources).toHaveLength(1);
  });
});

describe('coming back', () => {
  it('lists, opens and deletes kept documents', async () => {
    const { documents, now } = desk();
    await documents.openFiles([svg('helm.svg')]);
    documents.renameDocument('  Gannet   helm ');
    await documents.openFiles([svg('bracer.svg')]);
    await documents.closeDocument();
    expect(now().document).toBeNull();
    const cards = await documents.recentDocuments();
    expect(cards.map((c) => c.title).sort()).toEqual(['Gannet helm ', 'bracer']);
    expect(await documents.openRecent('d1')).toBe(true);
    expect(now().document?.title).toBe('Gannet helm ');
    await documents.deleteRecent('d1');
    expect(now().document).toBeNull();
    expect((await documents.recentDocuments()).map((c) => c.id)).toEqual(['d2']);
    expect(await documents.openRecent('d1')).toBe(false);
    expect(now().notice?.issues[0]?.code).toBe('document-gone');
  });

  it('does not open what another window holds, and keeps its own', async () => {
    const { documents, library, now, held } = desk(['other']);
    await library.put({ id: 'other', title: 'Other', savedAt: 0, files: [] }, project.text);
    await documents.openFiles([svg('helm.svg')]);
    expect(await documents.openRecent('other')).toBe(false);
    expect(now().documentId).toBe('d1');
    expect(now().notice?.issues[0]?.code).toBe('document-held');
    expect(held).toEqual(['d1']);
    expect(await documents.reopen('other')).toBe(false);
  });

  it('a damaged kept document is refused with its findings', async () => {
    const { documents, library, now } = desk();
    await library.put({ id: 'd9', title: 'Broken', savedAt: 0, files: [] }, '{"format":');
    expect(await documents.openRecent('d9')).toBe(false);
    expect(now().notice?.issues.length).toBeGreaterThan(0);
    expect(now().document).toBeNull();
  });
});

describe('names', () => {
  it.each([
    ['gannet_helm.svg', 'gannet helm'],
    ['C:\\x\\Keel bracer.SVG', 'Keel bracer'],
    ['helm.girthwise.json', 'helm'],
    ['.svg', 'Untitled'],
  ])('%s gives the title %s', (file, title) => expect(titleOf(file)).toBe(title));

  it.each([
    ['Gannet helm', 'pages', 'Gannet helm-pages.pdf'],
    ['Gannet helm', 'panels', 'Gannet helm-panels.svg'],
    ['Gannet helm', 'project', 'Gannet helm.girthwise.json'],
    ['a/b:c*?', 'project', 'a-b-c.girthwise.json'],
    ['  ...', 'pages', 'Untitled-pages.pdf'],
    ['Möwe 3', 'pages', 'Möwe 3-pages.pdf'],
    ['Gannet helm', 'fold', 'Gannet helm-shell.fold'],
  ] as const)('%s as %s is %s', (title, kind, name) => expect(exportName(title, kind)).toBe(name));

  it('tells projects from patterns', () => {
    expect(isProject({ name: 'a.json', text: '' })).toBe(true);
    expect(isProject({ name: 'a', text: ' {"format"' })).toBe(true);
    expect(isProject({ name: 'a.svg', text: '<svg/>' })).toBe(false);
    expect(isProject({ name: 'a.fold', text: '{"file_spec": 1.2}' })).toBe(false);
    expect(isProject({ name: 'a.json', text: '{"vertices_coords": []}' })).toBe(false);
  });

  it('makes different ids', () => {
    const ids = Array.from({ length: 100 }, (_, i) => freshId(1000, [i, 2, 3, 4]));
    expect(new Set(ids).size).toBe(100);
  });
});
