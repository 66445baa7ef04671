import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { DrawingLimits } from '../../src/drawing';
import { codes, issueOf, lineIds, outcomeOf, page, read, readFile, textOf } from './support';

const failure = (svg: string, limits: Partial<DrawingLimits> = {}) => {
  const outcome = outcomeOf(svg, { file: 0, size: { kind: 'ask' }, limits });
  if (outcome.ok) throw new Error('was read');
  expect(outcome.issues).toHaveLength(1);
  const [issue] = outcome.issues;
  expect(issue!.severity).toBe('error');
  expect(issue!.message).toMatch(/^[A-Z].*\.$/s);
  expect(issue!.remedy).toMatch(/^[A-Z].*\.$/s);
  return issue!;
};
/** A binary file as it reaches the program: decoded as UTF-8, wrong bytes replaced. */
const decoded = (...bytes: number[]): string => Buffer.from(bytes).toString('utf8');

describe('files that are no SVG', () => {
  it.each([
    ['', 'file-empty'],
    [' \n\t', 'file-empty'],
    ['\ufeff', 'file-empty'],
    ['<!DOCTYPE html><html><body></body></html>', 'file-is-web-page'],
    ['<!-- saved --> <!-- twice -->\n<html lang="en">', 'file-is-web-page'],
    ['{"format": "x"}', 'file-is-json'],
    ['%PDF-1.7\n', 'file-is-pdf'],
    [decoded(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0), 'file-is-picture'],
    [decoded(0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46), 'file-is-picture'],
    ['GIF89a......', 'file-is-picture'],
    [gzipSync('<svg/>').toString('utf8'), 'file-is-compressed'],
    [gzipSync('<svg/>').toString('latin1'), 'file-is-compressed'],
    [decoded(0x50, 0x4b, 3, 4, 20, 0), 'file-is-archive'],
    ['<\0s\0v\0g\0>\0', 'file-is-binary'],
    ['  0\nSECTION\n', 'file-is-dxf'],
    ['just words', 'file-not-svg'],
    ['<plan xmlns="urn:plan"/>', 'not-svg'],
    ['<svg xmlns="urn:other"/>', 'not-svg'],
    ['<!-- only a comment -->', 'xml-broken'],
  ])('%j: %s', (text, code) => {
    expect(failure(text).code).toBe(code);
  });

  it('looks at long heads without hanging', () => {
    const start = Date.now();
    expect(failure(`${'<!---->'.repeat(5000)}<x/>`).code).toBe('not-svg');
    expect(Date.now() - start).toBeLessThan(5000);
  });
});

describe('broken XML', () => {
  it.each([
    ['<svg xmlns="http://www.w3.org/2000/svg">\n  <g>\n</svg>', 3],
    ['<svg xmlns="http://www.w3.org/2000/svg">\n  <path d="M0 0', 2],
    ['<svg xmlns="http://www.w3.org/2000/svg"\n a=1/>', 2],
    ['<svg xmlns="http://www.w3.org/2000/svg"\n a="1" a="2"/>', 2],
    ['<svg xmlns="http://www.w3.org/2000/svg">\n&nbsp;</svg>', 2],
    ['<svg xmlns="http://www.w3.org/2000/svg">\n</svg><svg/>', 2],
    ['<svg xmlns="http://www.w3.org/2000/svg">\n<!-- a -- b --></svg>', 2],
    ['\n<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>', 2],
  ])('%j names line %i', (text, line) => {
    const issue = failure(text);
    expect(issue.code).toBe('xml-broken');
    expect(issue.place.source).toMatchObject({ file: 'test.svg', line });
    expect(issue.message).toContain(`line ${line}`);
  });
});

describe('entities', () => {
  const withDoctype = (subset: string, content: string): string =>
    `<!DOCTYPE svg [${subset}]>${page(content)}`;

  it('are refused when they are used', () => {
    const laughs = Array.from({ length: 20 }, (_, i) => `<!ENTITY l${i + 1} "&l${i};&l${i};&l${i};">`).join(
      '',
    );
    for (const svg of [
      withDoctype(`<!ENTITY l0 "lol">${laughs}`, '<text>&l20;</text>'),
      withDoctype('<!ENTITY d "M0 0h9">', '<path d="&d;"/>'),
      withDoctype('<!ENTITY t "text">', '<text>&t;</text>'),
      withDoctype('<!ENTITY t "text">', '<text>&t;<tspan/></text>'),
      withDoctype('<!ENTITY x SYSTEM "file:///etc/passwd">', '<text>&x;</text>'),
      withDoctype('<!ENTITY x PUBLIC "-//x" "https://example.org/x">', '<text>&x;</text>'),
      withDoctype('<!ENTITY % p "<!ENTITY q \'M0 0\'>"> %p;', '<path d="&q;"/>'),
      withDoctype('<!ENTITY m "<path d=\'M0 0h9\'/>">', '&m;'),
      `<!DOCTYPE svg [<!ENTITY n "${'x'.repeat(300)}">]><svg xmlns="&n;"/>`,
    ]) {
      expect(failure(svg).code).toBe('entities-refused');
    }
  });

  it('do no harm when they are not used', () => {
    const drawing = readFile(
      withDoctype('<!ENTITY l "lol"><!ENTITY x SYSTEM "file:///etc/passwd">', '<path id="p" d="M0 0h9"/>'),
    );
    expect(lineIds(drawing)).toEqual(['p']);
    expect(codes(drawing)).toEqual([]);
  });

  it('stand for one character, or for the name of a namespace', () => {
    const drawing = readFile(
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [<!ENTITY s "http://www.w3.org/2000/svg"><!ENTITY deg "&#176;"><!ENTITY e \'é\'>]>' +
        '<svg xmlns="&s;" width="9mm" height="9mm" viewBox="0 0 9 9"><text>45&deg; &e;</text></svg>',
    );
    expect(textOf(drawing, '45° é').text).toBe('45° é');
  });
});

describe('limits', () => {
  it('each have an error of their own', () => {
    expect(failure(page('<!-- 123456789 -->'), { bytes: 100 }).code).toBe('file-too-large');
    expect(
      failure(page(`<text>${'é'.repeat(150)}</text>`), { bytes: page('<text></text>').length + 200 }).code,
    ).toBe('file-too-large');
    expect(failure(page('<g/>'.repeat(10)), { elements: 10 }).code).toBe('too-many-elements');
    expect(failure(page('<path d="M0 0 1 1 2 2"/>'.repeat(10)), { points: 25 }).code).toBe('too-many-points');
    expect(failure(page(`${'<g>'.repeat(10)}${'</g>'.repeat(10)}`), { nesting: 10 }).code).toBe(
      'nesting-too-deep',
    );
    expect(failure(page('<g/>'.repeat(201) + '<g>'.repeat(200) + '</g>'.repeat(200))).code).toBe(
      'nesting-too-deep',
    );
    expect(outcomeOf(page(`${'<g>'.repeat(199)}<path d="M0 0h1"/>${'</g>'.repeat(199)}`)).ok).toBe(false);
    expect(outcomeOf(page(`${'<g>'.repeat(198)}<path d="M0 0h1"/>${'</g>'.repeat(198)}`)).ok).toBe(true);
  });

  it('bound what uses make of a small file', () => {
    // Each level doubles: 2^30 elements.
    const levels = Array.from(
      { length: 30 },
      (_, i) => `<g id="l${i + 1}"><use href="#l${i}"/><use href="#l${i}"/></g>`,
    );
    const issue = failure(
      page(`<defs><path id="l0" d="M0 0h1"/>${levels.join('')}</defs><use href="#l30"/>`),
    );
    expect(issue.code).toBe('use-too-many');
    const chain = Array.from({ length: 500 }, (_, i) => `<use id="c${i + 1}" href="#c${i}"/>`);
    expect(
      failure(page(`<defs><path id="c0" d="M0 0h1"/>${chain.join('')}</defs><use href="#c500"/>`)).code,
    ).toBe('nesting-too-deep');
  });

  it('do not bite a large honest file', () => {
    const drawing = read(
      `<g id="g">${'<path d="M0 0 C1 1 2 2 3 3 4 4 5 5 6 6"/>'.repeat(5000)}</g><use href="#g" y="5"/>`,
    );
    expect(drawing.lines).toHaveLength(10_000);
  });
});

describe('what a file may try', () => {
  it('stays inert and is told', () => {
    const drawing = readFile(
      `<?xml-stylesheet href="https://example.org/a.css"?>${page(
        `<script>x()</script><script href="https://example.org/a.js"/><style>@import "a.css"; .a{fill:url(https://example.org/g#g)}</style>
         <path id="p" d="M0 0h9" onclick="x()" onload="y()"/><image href="https://example.org/a.png"/><use href="other.svg#p"/>
         <path id="q" d="M0 0h9v9" fill="url(https://example.org/g.svg#g)"/><a href="javascript:x()"><path id="r" d="M0 0h9"/></a>`,
      )}`,
    );
    expect(lineIds(drawing)).toEqual(['p', 'q', 'r']);
    const told = Object.fromEntries(drawing.issues.map((i) => [i.code, Number.parseInt(i.message, 10)]));
    expect(told).toMatchObject({ script: 2, 'event-handler': 2, image: 1, 'external-reference': 5 });
    expect(issueOf(drawing, 'script').message).toContain('never run');
  });

  it('names like those of objects are only names', () => {
    const drawing = read(
      '<g id="__proto__"><path id="constructor" class="toString" d="M0 0h1" __proto__="x" hasOwnProperty="y"/></g><use href="#__proto__"/><use href="#hasOwnProperty"/><__proto__/>',
    );
    expect(drawing.lines.map((l) => [l.elementId, l.groups])).toEqual([
      ['constructor', ['__proto__']],
      ['constructor', ['__proto__']],
    ]);
    expect(codes(drawing)).toEqual(['use-missing', 'unknown-element']);
  });
});

it('reads a file with a byte order mark', () => {
  const drawing = readFile(`\ufeff${page('<path id="p" d="M0 0h1"/>')}`);
  expect(drawing.lines[0]!.source).toMatchObject({ line: 1, column: page('').indexOf('</svg>') + 1 });
});

it('gives the same drawing for the same text', () => {
  const svg = page('<g id="a"><path d="M0 0h1"/><text fill="red">1</text></g><use href="#a"/><path d="x"/>');
  expect(JSON.stringify(readFile(svg))).toBe(JSON.stringify(readFile(svg)));
});
