import { describe, expect, it } from 'vitest';
import { codes, issueOf, lineById, lineIds, read, readFile } from './support';

const styled = (css: string, content: string) => read(`<style>${css}</style>${content}`);
const strokeOf = (css: string, content: string): string => lineById(styled(css, content), 'p').style.stroke;

describe('which declaration wins', () => {
  it('attribute < rule < inline style < important rule < important inline style', () => {
    const path = (more: string) => `<path id="p" class="c" d="M0 0h9" stroke="#000001" ${more}/>`;
    expect(strokeOf('', path(''))).toBe('#000001');
    expect(strokeOf('.c{stroke:#000002}', path(''))).toBe('#000002');
    expect(strokeOf('.c{stroke:#000002}', path('style="stroke:#000003"'))).toBe('#000003');
    expect(strokeOf('.c{stroke:#000002!important}', path('style="stroke:#000003"'))).toBe('#000002');
    expect(strokeOf('.c{stroke:#000002 ! important}', path('style="stroke:#000003 !important"'))).toBe(
      '#000003',
    );
    // Even the weakest selector outweighs an attribute.
    expect(strokeOf('*{stroke:#000004}', path(''))).toBe('#000004');
  });

  it('id > class > element; then order; selector lists count one by one', () => {
    const path = '<g class="g"><path id="p" class="a b" d="M0 0h9"/></g>';
    expect(strokeOf('#p{stroke:#000001}.a.b{stroke:#000002}path{stroke:#000003}', path)).toBe('#000001');
    expect(strokeOf('.a{stroke:#000001}path{stroke:#000002}', path)).toBe('#000001');
    expect(strokeOf('.a{stroke:#000001}.b{stroke:#000002}', path)).toBe('#000002');
    expect(strokeOf('g .a{stroke:#000001}.b{stroke:#000002}', path)).toBe('#000001');
    expect(strokeOf('rect,#p,g{stroke:#000001}.a.b{stroke:#000002}', path)).toBe('#000001');
  });

  it('an invalid value does not count, the next weaker does', () => {
    const path = '<path id="p" class="c" d="M0 0h9" stroke="#000001"/>';
    const drawing = styled('.c{stroke:nonsense;stroke-width:wide}', path);
    expect(lineById(drawing, 'p').style).toMatchObject({ stroke: '#000001', strokeWidth: 0.3 });
    expect(issueOf(drawing, 'css-value-skipped').message).toContain('nonsense');
  });

  it('selectors with descendants are matched in time that does not explode', () => {
    const depth = 150;
    const css = `${'g '.repeat(60)}rect{stroke:red} ${'g > g '.repeat(40)}x > path{stroke:red}`;
    const drawing = styled(css, `${'<g>'.repeat(depth)}<path id="p" d="M0 0h9"/>${'</g>'.repeat(depth)}`);
    expect(lineById(drawing, 'p').style.stroke).toBe('#000000');
  });
});

describe('inheritance', () => {
  it('passes stroke properties and colour down, opacity as a product', () => {
    const drawing = read(
      `<g stroke="red" stroke-width="2" stroke-dasharray="3 1" opacity=".5" color="#0000ff">
        <path id="p" d="M0 0h9"/><path id="q" d="M0 0h9" stroke="currentColor" opacity=".5" stroke-opacity=".5"/>
      </g>`,
    );
    expect(lineById(drawing, 'p').style).toMatchObject({ stroke: '#ff0000', dash: [3, 1], opacity: 0.5 });
    expect(lineById(drawing, 'q').style).toMatchObject({ stroke: '#0000ff', opacity: 0.125 });
    expect(lineById(drawing, 'p').style.strokeWidth).toBeCloseTo(2, 12);
  });

  it('resolves em where it is declared, and % against the viewport where it is used', () => {
    const drawing = read(
      `<g font-size="10" stroke-width=".1em"><path id="em" font-size="50" d="M0 0h9"/></g>
       <g stroke-width="1%"><path id="out" d="M0 0h9"/><svg width="40" height="30" viewBox="0 0 4 3"><path id="in" d="M0 0h3"/></svg></g>`,
    );
    expect(lineById(drawing, 'em').style.strokeWidth).toBeCloseTo(1, 12);
    expect(lineById(drawing, 'out').style.strokeWidth).toBeCloseTo(
      Math.sqrt((200 ** 2 + 100 ** 2) / 2) / 100,
      9,
    );
    // One percent of √((4² + 3²) / 2) user units of 10 mm each.
    expect(lineById(drawing, 'in').style.strokeWidth).toBeCloseTo((Math.sqrt(25 / 2) / 100) * 10, 9);
  });

  it('takes ex as half an em, and auto radii from each other', () => {
    const drawing = read(
      '<rect id="ex" width="4ex" height="2ex" font-size="10"/><rect id="auto" x="50" width="30" height="20" rx="auto" ry="3"/>' +
        '<ellipse id="round" cx="150" cy="50" rx="auto" ry="9"/>',
    );
    expect(lineById(drawing, 'ex').segments[0]!.to.x).toBeCloseTo(20, 12);
    expect(lineById(drawing, 'auto').start.x).toBeCloseTo(53, 12);
    expect(lineById(drawing, 'round').start.x).toBeCloseTo(159, 12);
  });
});

describe('what can be seen', () => {
  it('leaves out lines without stroke and fill with one counted note', () => {
    const drawing = read(
      `<path d="M0 0h9" stroke="none"/><path d="M0 0h9" stroke-width="0"/><path d="M0 0h9" stroke-opacity="0"/>
       <path d="M0 0h9" stroke="transparent"/><path d="M0 0h9" opacity="0"/><line x2="9" stroke="none" fill="red"/>
       <path id="filled" d="M0 0h9v9z" stroke="none" fill="red"/><path id="stroked" d="M0 0h9"/>`,
    );
    expect(lineIds(drawing)).toEqual(['filled', 'stroked']);
    expect(lineById(drawing, 'filled').style).toMatchObject({
      stroke: '',
      fill: '#ff0000',
      strokeWidth: 0,
      dash: [],
    });
    expect(codes(drawing)).toEqual(['lines-without-stroke']);
    expect(issueOf(drawing, 'lines-without-stroke').message).toMatch(/^6 lines/);
  });

  it('leaves out what is hidden with one counted note; visibility can be turned on again, display can not', () => {
    const drawing = read(
      `<g display="none"><path d="M0 0h9" display="inline"/><text>1</text></g><g visibility="hidden"><path d="M0 0h9"/><path id="p" visibility="visible" d="M0 0h9"/></g>`,
    );
    expect(lineIds(drawing)).toEqual(['p']);
    expect(issueOf(drawing, 'lines-hidden').message).toMatch(/^3 drawn elements/);
  });

  it('fills black by default, as SVG says', () => {
    const drawing = readFile(
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><path id="p" d="M1 1h5v5z"/></svg>',
    );
    expect(lineById(drawing, 'p').style).toMatchObject({ stroke: '', fill: '#000000', opacity: 1 });
  });

  it('scales widths and dashes by the square root of the area scale', () => {
    const drawing = read(
      `<path id="p" d="M0 0h9" transform="scale(4 1)" stroke-width="1" stroke-dasharray="3"/>
       <path id="q" d="M0 0h9" transform="scale(4)" stroke-width="1" vector-effect="non-scaling-stroke"/>`,
    );
    expect(lineById(drawing, 'p').style.strokeWidth).toBeCloseTo(2, 12);
    expect(lineById(drawing, 'p').style.dash.map((d) => Math.round(d * 1e9) / 1e9)).toEqual([6, 6]);
    // A stroke that does not scale is 1 px wide wherever it stands.
    expect(lineById(drawing, 'q').style.strokeWidth).toBeCloseTo(25.4 / 96, 9);
  });
});

describe('effects that are not drawn', () => {
  it('are noted once per kind with a count', () => {
    const drawing = read(
      `<linearGradient id="l"/><pattern id="t"/>
       <path id="a" d="M0 0h9" clip-path="url(#c)"/><g clip-path="url(#c)" mask="url(#m)"><path d="M0 0h9"/></g>
       <path d="M0 0h9" filter="url(#f)"/><path d="M0 0h9" style="marker:url(#k)"/><path d="M0 0h9" marker-end="url(#k)"/>
       <path id="g" d="M0 0h9v9" stroke="url(#l)"/><path d="M0 0h9v9" fill="url(#t)"/><image href="a.png"/><foreignObject/>
       <path d="M0 0h9"><animate/></path><blink/>`,
    );
    const told = Object.fromEntries(drawing.issues.map((i) => [i.code, Number.parseInt(i.message, 10)]));
    expect(told).toEqual({
      'clip-path': 2,
      mask: 1,
      filter: 1,
      marker: 2,
      'paint-server': 2,
      image: 1,
      'foreign-object': 1,
      animation: 1,
      'unknown-element': 1,
    });
    expect(lineById(drawing, 'g').style.stroke).toBe('#000000');
    expect(drawing.lines).toHaveLength(8);
  });
});

describe('style sheets', () => {
  it('skips @-rules, odd selectors and nested rules with notes', () => {
    const drawing = styled(
      `@media print{.c{stroke:red}} @import "x.css"; .c:nth-child(2n){stroke:red} .c{stroke:#000001; .d{stroke:red} }
       @font-face{font-family:x} .c > {stroke:red}`,
      '<path id="p" class="c" d="M0 0h9"/>',
    );
    expect(lineById(drawing, 'p').style.stroke).toBe('#000001');
    expect(codes(drawing).sort()).toEqual(['css-rule-skipped', 'css-selector-skipped', 'external-reference']);
    expect(issueOf(drawing, 'css-rule-skipped').message).toMatch(/^2 blocks/);
    expect(issueOf(drawing, 'css-selector-skipped').message).toMatch(/^2 style rules/);
  });

  it('survives sheets that end in the middle', () => {
    for (const css of [
      '.c{stroke:#000001',
      '.c{stroke:#000001;}.d{',
      '.c{stroke:#000001}/* open',
      '.c{stroke:#000001}@media x{',
      '.c{stroke:#000001}"',
    ]) {
      expect(strokeOf(css, '<path id="p" class="c" d="M0 0h9"/>')).toBe('#000001');
    }
  });

  it('says what can not be worked out', () => {
    const drawing = styled(
      '.c{stroke-width:calc(1px + 2px);stroke:var(--x)}.d{stroke:oklch(50% 0.1 20)}',
      '<path id="p" class="c" d="M0 0h9"/><path id="q" class="d" d="M0 0h9"/><rect id="r" x="calc(1px)" width="5" height="5"/>',
    );
    expect(lineById(drawing, 'p').style).toMatchObject({ stroke: '#000000', strokeWidth: 0.3 });
    expect(lineById(drawing, 'q').style.stroke).toBe('#000000');
    expect(codes(drawing)).toEqual(['length-unsupported', 'css-value-skipped', 'colour-approximated']);
    expect(issueOf(drawing, 'length-unsupported').severity).toBe('error');
    expect(lineIds(drawing)).toEqual(['p', 'q']);
  });

  it('stops at sheets that take too much work', () => {
    // Thousands of universal rules on thousands of elements.
    const css = '* > * ~ * {stroke-width:1}'.repeat(3000);
    expect(() => styled(css, '<path d="M0 0h1"/>'.repeat(3000))).toThrow(/style-too-heavy/);
  });
});
