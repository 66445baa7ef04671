/** A troupe: everybody's files, shared sheets, and what goes wrong for one of them. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { Cancelled, type Outcome, unwatched } from '../../src/base';
import type { Wearer } from '../../src/model';
import {
  createPipeline,
  makeArchive,
  makeTroupe,
  makeTroupeArchive,
  type TroupeFiles,
} from '../../src/pipeline';
import { openProject } from '../../src/project';
import { lettering, smallDocument } from './support';

const wearer = (id: string, name: string, girth: number | null): Wearer => ({
  id,
  name,
  girth,
  length: null,
  breadth: null,
  height: null,
});

const { decisions } = smallDocument;
const document = {
  ...smallDocument,
  title: 'Two plates',
  decisions: {
    ...decisions,
    // Two loose plates are no shell: their girth is given.
    shell: { ...decisions.shell, foldUp: false },
    fit: { ...decisions.fit, girth: { kind: 'typed' as const, length: 500 } },
    troupe: {
      wearers: [
        wearer('w1', 'Harbour master', 580),
        wearer('w2', 'Lamp keeper', 58),
        wearer('w3', 'Bell ringer', 545),
      ],
    },
  },
};
const pipeline = createPipeline(lettering);
const make = (of = document, work = unwatched) =>
  makeTroupe(of, (own, its) => pipeline.run(own, its), lettering, work);

/** What Python's own reader finds in an archive: names and sizes, after it has checked every sum. */
function independent(bytes: Uint8Array): { name: string; size: number }[] {
  const folder = mkdtempSync(join(tmpdir(), 'archive-'));
  try {
    const file = join(folder, 'a.zip');
    writeFileSync(file, bytes);
    execFileSync('python3', [
      '-c',
      'import sys,zipfile;z=zipfile.ZipFile(sys.argv[1]);assert z.testzip() is None;z.extractall(sys.argv[2]);open(sys.argv[2]+"/list","w").write("\\n".join(f"{i.file_size} {i.filename}" for i in z.infolist()))',
      file,
      folder,
    ]);
    return readFileSync(join(folder, 'list'), 'utf8')
      .split('\n')
      .map((line) => {
        const [size, ...name] = line.split(' ');
        return { name: name.join(' '), size: Number(size) };
      });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const hasPython = (() => {
  try {
    execFileSync('python3', ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
})();

describe('a troupe', () => {
  let made: Outcome<TroupeFiles>;
  beforeAll(async () => {
    made = await make();
  }, 120_000);
  const files = () => {
    if (!made.ok) throw new Error(made.issues[0]!.message);
    return made.value.files;
  };
  const text = (name: string) => String(files().find((f) => f.name === name)!.content);

  it('gets a folder for everybody who can be made, shared sheets, table, overview and project', () => {
    const names = files().map((f) => f.name);
    for (const who of ['Harbour-master', 'Bell-ringer'])
      for (const what of ['pages.pdf', 'panels.svg', 'panels.dxf', 'build.pdf'])
        expect(names).toContain(`${who}/${what}`);
    expect(names.some((n) => n.startsWith('Lamp-keeper/'))).toBe(false);
    for (const name of [
      'shared-sheets/sheet-1.dxf',
      'shared-sheets/sheet-1.svg',
      'troupe.csv',
      'overview.csv',
    ])
      expect(names).toContain(name);
    const opened = openProject(text('Two-plates.girthwise.json'));
    expect(opened.ok && opened.value).toEqual(document);
  });

  it('says for whom nothing could be made, which value is wrong and what to do, and makes the others', () => {
    const wrong = made.issues.filter((i) => i.severity === 'error');
    expect(wrong.map((i) => [i.code, i.place.ids?.[0]])).toEqual([['wearer-measure-implausible', 'w2']]);
    expect(wrong[0]!.message).toContain('Lamp keeper');
    expect(wrong[0]!.message).toContain('girth of 58 mm');
    expect(wrong[0]!.remedy).toContain('580 mm');
    expect(text('findings.txt')).toContain('Lamp keeper');
  });

  it('cuts each in their own size: panels grow with what the head takes', () => {
    const widths = ['Harbour-master', 'Bell-ringer'].map((who) => {
      const svg = text(`${who}/panels.svg`);
      return Number(/width="([\d.]+)mm"/.exec(svg)![1]);
    });
    expect(widths[0]!).toBeGreaterThan(widths[1]!);
    const percent = text('overview.csv')
      .trim()
      .split('\r\n')
      .slice(1)
      .map((row) => Number(/([\d.]+) %/.exec(row)![1]));
    // Scale = (girth + 2π (ease + foam)) / 500 with 8 mm ease and the paper outside 5 mm of foam.
    for (const [i, girth] of [580, 545].entries())
      expect(percent[i]).toBeCloseTo(((girth + 2 * Math.PI * 13) / 500) * 100, 1);
  });

  it('lays every panel of everybody on the shared sheets once, with the wearer’s name on it', () => {
    const sheets = files().filter((f) => /^shared-sheets\/.*\.svg$/.test(f.name));
    const keys = sheets.flatMap((f) => [
      ...new Set([...String(f.content).matchAll(/data-panel="([^"]+)"/g)].map((m) => m[1]!)),
    ]);
    expect(keys.filter((k) => k.startsWith('Harbour-master/'))).toHaveLength(2);
    expect(keys.filter((k) => k.startsWith('Bell-ringer/'))).toHaveLength(2);
    expect(new Set(keys).size).toBe(4);
    const names = sheets.flatMap((f) =>
      [...String(f.content).matchAll(/data-name="([^"]+)"/g)].map((m) => m[1]!),
    );
    expect(new Set(names.map((n) => n.split(':')[0]))).toEqual(new Set(['Harbour master', 'Bell ringer']));
  });

  it('is one archive of the same bytes each time, that an independent reader opens', async () => {
    const zip = await makeTroupeArchive(document, (own, its) => pipeline.run(own, its), lettering, unwatched);
    if (!zip.ok) throw new Error('refused');
    const again = await makeTroupeArchive(
      structuredClone(document),
      (own, its) => createPipeline(lettering).run(own, its),
      lettering,
      unwatched,
    );
    expect(again.ok && Buffer.from(again.value).equals(Buffer.from(zip.value))).toBe(true);
    if (!hasPython) return;
    expect(independent(zip.value)).toEqual(
      files().map((f) => ({
        name: `Two-plates-troupe/${f.name}`,
        size: typeof f.content === 'string' ? Buffer.byteLength(f.content) : f.content.length,
      })),
    );
  });

  it('tells its progress by wearer, and stops when cancelled', async () => {
    const said: string[] = [];
    let done = 0;
    const work = {
      step: async (at: number, total: number, what: string) => {
        expect(at / total).toBeGreaterThanOrEqual(done - 1e-9);
        done = at / total;
        said.push(what);
        if (said.length > 20 && what.startsWith('Bell ringer')) throw new Cancelled();
      },
    };
    await expect(make(document, work)).rejects.toThrow(Cancelled);
    expect(said.some((w) => w.startsWith('Harbour master: '))).toBe(true);
  });

  it('is refused when there is nobody, or nobody can be made', async () => {
    const of = (wearers: readonly Wearer[]) =>
      make({ ...document, decisions: { ...document.decisions, troupe: { wearers: [...wearers] } } });
    expect((await of([])).issues.map((i) => i.code)).toEqual(['troupe-empty']);
    const none = await of([wearer('w1', '', null)]);
    expect(none.ok).toBe(false);
    expect(none.issues.map((i) => i.code)).toEqual([
      'wearer-without-name',
      'wearer-without-girth',
      'troupe-none-made',
    ]);
  });
});

describe('the archive of one build', () => {
  it('holds what an independent reader finds again, the project among it', async () => {
    const results = await pipeline.run(document, unwatched);
    const own = {
      ...document,
      decisions: { ...document.decisions, fit: { ...document.decisions.fit, head: 580 } },
    };
    const sized = await pipeline.run(own, unwatched);
    expect(results.marked).not.toBeNull();
    const zip = await makeArchive(sized, own, lettering, unwatched);
    if (!zip.ok) throw new Error(zip.issues[0]!.message);
    const names = hasPython ? independent(zip.value).map((f) => f.name) : [];
    if (hasPython)
      for (const name of [
        'pages.pdf',
        'panels.svg',
        'panels.dxf',
        'build.pdf',
        'pattern.fold',
        'Two-plates.girthwise.json',
      ])
        expect(names).toContain(`Two-plates/${name}`);
    expect(zip.value.length).toBeGreaterThan(1000);
  });
});
