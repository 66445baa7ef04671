/**
 * The import directions of the project, read from the source text with the TypeScript parser: what a stage may know
 * of another, that the core knows neither screens nor browser, and which folders may use which library.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = resolve(__dirname, '../..');

interface Import {
  readonly from: string;
  readonly what: string;
}

function filesBelow(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((e) => e.isFile() && /\.tsx?$/.test(e.name))
    .map((e) => relative(root, join(e.parentPath, e.name)))
    .sort();
}

function importsOf(file: string): Import[] {
  const text = readFileSync(join(root, file), 'utf8');
  const found: Import[] = [];
  const visit = (node: ts.Node) => {
    if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier) {
      found.push({ from: file, what: (node.moduleSpecifier as ts.StringLiteral).text });
    }
    if (
      ts.isCallExpression(node) &&
      node.expression.kind === ts.SyntaxKind.ImportKeyword &&
      node.arguments[0]
    ) {
      const argument = node.arguments[0];
      if (ts.isStringLiteral(argument)) found.push({ from: file, what: argument.text });
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true));
  return found;
}

const sources = [...filesBelow('src'), ...filesBelow('app')];
const imports = sources.flatMap(importsOf);
/** Folder of a project file: `src/foam`, `app/canvas`. */
const folderOf = (path: string) => path.split('/').slice(0, 2).join('/');
const internal = imports
  .filter((i) => i.what.startsWith('.'))
  .map((i) => ({
    ...i,
    target: relative(root, resolve(root, dirname(i.from), i.what)).replaceAll('\\', '/'),
  }));

const ground = ['base', 'units', 'math'];
const stages = [
  'drawing',
  'reading',
  'seams',
  'shell',
  'fit',
  'panels',
  'foam',
  'extras',
  'dryfit',
  'marks',
  'layout',
  'nest',
  'build',
  'output',
  'project',
  'troupe',
];
/** Stages that use the kernels of an earlier one: measures, offsets and unfolding of the shell. */
const inputs: Record<string, string[]> = {
  fit: ['shell'],
  panels: ['shell'],
  foam: ['shell'],
  extras: ['shell'],
  dryfit: ['shell'],
  build: ['shell'],
};
/** What each core folder may import, besides itself. */
const mayImport: Record<string, string[]> = {
  base: [],
  units: ['base'],
  math: ['base', 'units'],
  plane: ground,
  model: ground,
  ...Object.fromEntries(stages.map((s) => [s, [...ground, 'plane', 'model', ...(inputs[s] ?? [])]])),
  pipeline: [...ground, 'plane', 'model', ...stages],
  worker: [...ground, 'plane', 'model', 'pipeline', ...stages],
  cli: [...ground, 'plane', 'model', 'pipeline', ...stages],
};

const onlyIn: Record<string, RegExp> = {
  'clipper2-ts': /^src\/plane\/polygonLibrary\.ts$/,
  'manifold-3d': /^src\/dryfit\/solidLibrary\.ts$/,
  saxes: /^src\/drawing\//,
  svgpath: /^src\/drawing\//,
  'opentype.js': /^src\/marks\//,
  '@cantoo/pdf-lib': /^src\/output\//,
  fflate: /^src\/output\//,
  papaparse: /^src\/troupe\//,
  paper: /^app\/canvas\//,
  three: /^app\/shellview\//,
  idb: /^app\/document\//,
};

describe('import directions', () => {
  it('finds something to check', () => {
    expect(sources.length).toBeGreaterThan(60);
    expect(internal.length).toBeGreaterThan(100);
  });

  it('keeps the order of the core', () => {
    const wrong = internal
      .filter((i) => i.from.startsWith('src/'))
      .filter((i) => {
        const from = i.from.split('/')[1] ?? '';
        const to = i.target.split('/');
        if (to[0] !== 'src') return true;
        return to[1] !== from && !(mayImport[from] ?? []).includes(to[1] ?? '');
      })
      .map((i) => `${i.from} → ${i.target}`);
    expect(wrong).toEqual([]);
  });

  it('enters a folder of the core only through its index', () => {
    const wrong = internal
      .filter((i) => i.target.startsWith('src/') && folderOf(i.target) !== folderOf(i.from))
      .filter((i) => i.target.split('/').length > 2 && !/^src\/[a-z]+\/index(\.ts)?$/.test(i.target))
      .map((i) => `${i.from} → ${i.target}`);
    expect(wrong).toEqual([]);
  });

  it('uses each library in its own folder only', () => {
    const wrong = imports
      .filter((i) => !i.what.startsWith('.'))
      .filter((i) =>
        Object.entries(onlyIn).some(
          ([name, where]) => (i.what === name || i.what.startsWith(`${name}/`)) && !where.test(i.from),
        ),
      )
      .map((i) => `${i.from} → ${i.what}`);
    expect(wrong).toEqual([]);
  });

  it('keeps React out of the core and the core in reach of the screens', () => {
    const wrong = imports
      .filter((i) => i.from.startsWith('src/') && /^(react|zustand|node:dom|jsdom)/.test(i.what))
      .map((i) => `${i.from} → ${i.what}`);
    expect(wrong).toEqual([]);
  });

  it('compiles the core without the DOM library', () => {
    const config = JSON.parse(readFileSync(join(root, 'src/tsconfig.json'), 'utf8')) as {
      compilerOptions: { lib: string[] };
    };
    expect(config.compilerOptions.lib).toEqual(['ES2022']);
  });
});
