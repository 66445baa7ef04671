import { describe, expect, it } from 'vitest';
import { codes, corners, issueOf, lineById, lineIds, read, readFile } from './support';

describe('ids, groups and places', () => {
  it('names lines by file, element and subpath, and uses by the way to them', () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9" stroke="black">\n' +
      '  <g id="a"><path id="p" d="M0 0h1M2 2h1"/></g>\n' +
      '  <use id="u" href="#a" x="3"/><use href="#u" y="3"/></svg>';
    const drawing = readFile(svg, { file: 3, size: { kind: 'ask' } });
    expect(drawing.lines.map((l) => l.id)).toEqual([
      '3:2:0',
      '3:2:1',
      '3:3.2:0',
      '3:3.2:1',
      '3:4.3.2:0',
      '3:4.3.2:1',
    ]);
    expect(drawing.lines[0]!.source).toEqual({ file: 'test.svg', line: 2, column: 13 });
    expect(drawing.lines[2]!.groups).toEqual(['u', 'a']);
    expect(new Set(drawing.lines.map((l) => l.id)).size).toBe(6);
  });

  it('gives groups by id, else by any label, outermost first', () => {
    const drawing = read(
      `<g id="outer" xmlns:n="urn:n" n:label="ignored"><g n:label="Layer 2"><g><a id="link"><svg id="in"><path id="p" d="M0 0h1"/></svg></a></g></g></g>`,
    );
    expect(lineById(drawing, 'p').groups).toEqual(['outer', 'Layer 2', 'link', 'in']);
  });

  it('counts lines for every kind of line end', () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg"\r\n width="9mm" height="9mm" viewBox="0 0 9 9" stroke="red">\r<path\nid="p" d="M0 0h1"/>\r\n\n  <path id="q" d="M0 0h1"/></svg>';
    const drawing = readFile(svg);
    expect(lineById(drawing, 'p').source).toMatchObject({ line: 3, column: 1 });
    expect(lineById(drawing, 'q').source).toMatchObject({ line: 6, column: 3 });
  });

  it('does not depend on the order of attributes, on white space or comments', () => {
    const a = read('<rect id="r" x="1" y="2" width="3" height="4" stroke="red"/>');
    const b = read('<rect\n stroke="red"\theight="4"  width="3" y="2" x="1" id="r" ></rect>');
    expect(b.lines).toEqual(a.lines);
  });
});

describe('uses', () => {
  const uses = (content: string) => read(`<defs><rect id="r" width="4" height="2"/>${content}`);

  it('take references forwards and backwards, href before xlink:href', () => {
    const drawing = uses(
      '<path id="q" d="M0 0h9"/></defs><use xlink:href="#q" href="#r" x="10" y="20"/><use href="#late"/><path id="late" d="M1 1h1"/>',
    );
    expect(drawing.lines.map(corners)).toEqual(['10,20 14,20 14,22 10,22 10,20', '1,1 2,1', '1,1 2,1']);
  });

  it('fit symbols and nested drawings into width and height', () => {
    const drawing = uses(
      `<symbol id="s" viewBox="0 0 8 4"><use href="#r"/></symbol></defs>
       <use href="#s" width="16" height="16"/><use href="#s" x="100" width="16" height="16" transform="scale(.5)"/>`,
    );
    expect(drawing.lines.map(corners)).toEqual(['0,4 8,4 8,8 0,8 0,4', '50,2 54,2 54,4 50,4 50,2']);
  });

  it('that contain themselves are left out alone', () => {
    const drawing = read(
      `<g id="a"><path id="p" d="M0 0h1"/><use href="#a" x="5"/></g>
       <g id="b"><path id="q" d="M0 0h2"/><use href="#c"/></g><g id="c"><path id="r" d="M0 0h3"/><use href="#b"/></g>`,
    );
    expect(lineIds(drawing)).toEqual(['p', 'q', 'r', 'r', 'q']);
    expect(codes(drawing)).toEqual(['use-recursive', 'use-recursive', 'use-recursive']);
    expect(issueOf(drawing, 'use-recursive').place.source).toMatchObject({ line: 1 });
  });

  it('of missing elements are told; of other files are not followed', () => {
    const drawing = read('<use href="#nowhere"/><use href="parts.svg#p"/><use/><path d="M0 0h1"/>');
    expect(codes(drawing)).toEqual(['use-missing', 'external-reference']);
  });

  it('inherit from the use, and match selectors in a tree of their own', () => {
    const drawing = read(
      `<style>.house path{stroke:#00ff00} g>path{stroke:#0000ff}</style>
       <g class="house"><path id="p" d="M0 0h1" class="x"/></g><use id="u" href="#p" stroke="#ff0000"/>`,
    );
    expect(drawing.lines.map((l) => l.style.stroke)).toEqual(['#00ff00', '#ff0000']);
  });

  it('find ids with escapes', () => {
    const drawing = read(
      '<path id="a b" d="M0 0h1"/><path id="c%20d" d="M0 0h1"/><use href="#a%20b"/><use href="#c%20d"/><use href="#%"/>',
    );
    expect(drawing.lines).toHaveLength(4);
    expect(codes(drawing)).toEqual(['use-missing']);
  });
});

describe('what is rendered', () => {
  it('leaves out definitions and elements of other namespaces', () => {
    const drawing = read(
      `<defs><path d="M0 0h1"/></defs><clipPath><path d="M0 0h1"/></clipPath><symbol><path d="M0 0h1"/></symbol>
       <x:path xmlns:x="urn:x" d="M0 0h1"/><x:g xmlns:x="urn:x"><path d="M0 0h1"/></x:g><path id="p" d="M0 0h1"><path d="M0 0h1"/></path>`,
    );
    expect(lineIds(drawing)).toEqual(['p']);
    expect(codes(drawing)).toEqual([]);
  });

  it('takes the first child of a switch that suits, rather text than a web page', () => {
    const drawing = read(
      `<switch><path id="a" d="M0 0h1" systemLanguage="de"/><path id="b" d="M0 0h1" systemLanguage="fr,en-GB"/><path id="c" d="M0 0h1"/></switch>
       <switch><foreignObject/><text id="t" fill="black">7</text></switch><path id="d" d="M0 0h1" requiredExtensions="urn:x"/>`,
    );
    expect(lineIds(drawing)).toEqual(['b']);
    expect(drawing.texts.map((t) => t.text)).toEqual(['7']);
    expect(codes(drawing)).toEqual(['foreign-object']);
  });

  it('binds names by namespace', () => {
    const drawing = readFile(
      `<s:svg xmlns:s="http://www.w3.org/2000/svg" xmlns:l="http://www.w3.org/1999/xlink" width="9mm" height="9mm" viewBox="0 0 9 9" stroke="red">
       <s:path id="p" d="M0 0h1"/><path d="M0 0h1"/><s:use l:href="#p" y="2"/></s:svg>`,
    );
    expect(drawing.lines.map(corners)).toEqual(['0,0 1,0', '0,2 1,2']);
  });

  it('reads files without namespaces and with undeclared prefixes, and says so', () => {
    const drawing = readFile(
      '<svg width="9mm" height="9mm" viewBox="0 0 9 9" stroke="red"><path id="p" d="M0 0h1"/><use xlink:href="#p"/><g n:label="x"/></svg>',
    );
    expect(drawing.lines).toHaveLength(2);
    expect(codes(drawing)).toEqual(['svg-namespace-missing', 'prefix-unbound']);
  });

  it('tells what can not be transformed, and draws it where it stands', () => {
    const drawing = read(
      '<path id="p" d="M0 0h1" transform="rotate(x)"/><g style="transform:rotate3d(1,1,1,45deg)"><path id="q" d="M0 0h1"/></g>',
    );
    expect(drawing.lines.map(corners)).toEqual(['0,0 1,0', '0,0 1,0']);
    expect(issueOf(drawing, 'transform-skipped').severity).toBe('warning');
  });

  it('leaves out coordinates beyond all measure', () => {
    const drawing = read('<path id="p" d="M0 0h1e300" transform="scale(1e100)"/><path id="q" d="M0 0h1"/>');
    expect(lineIds(drawing)).toEqual(['q']);
    expect(codes(drawing)).toContain('coordinates-too-large');
  });

  it('counts lines wholly off the page', () => {
    const drawing = read('<path d="M-9 -9h5"/><path d="M-9 9h15"/><path d="M300 0h9"/>');
    expect(drawing.lines).toHaveLength(3);
    expect(issueOf(drawing, 'outside-page').message).toMatch(/^2 lines/);
  });

  it('says when nothing can be seen', () => {
    expect(issueOf(read('<image href="a.png"/>'), 'nothing-drawn').severity).toBe('error');
  });
});
