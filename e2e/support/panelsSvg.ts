/** The exported drawing of the panels, read by the browser's own XML parser. Places in mm as drawn, y down. */
import { expect, type Page } from '@playwright/test';
import type { Spot } from './picture';

export interface DrawnNotch {
  readonly seam: string;
  readonly edge: string;
  readonly along: number;
  /** On the outline. */
  readonly at: Spot;
  readonly to: Spot;
}

export interface DrawnPanel {
  readonly id: string;
  readonly name: string;
  /** Closed rings, first point not repeated. */
  readonly rings: readonly (readonly Spot[])[];
  readonly notches: readonly DrawnNotch[];
  /** Edges that are marked as staying open. */
  readonly borders: readonly string[];
  /** Words and numbers on it. */
  readonly letters: readonly { readonly text: string; readonly of: string }[];
}

export interface PanelsDrawing {
  readonly width: string;
  readonly viewBox: readonly number[];
  readonly panels: readonly DrawnPanel[];
}

export async function readPanels(page: Page, svg: string): Promise<PanelsDrawing> {
  const raw = await page.evaluate((text) => {
    const document = new DOMParser().parseFromString(text, 'image/svg+xml');
    const broken = document.querySelector('parsererror');
    if (broken) throw new Error(broken.textContent ?? 'broken XML');
    const groups = [...document.querySelectorAll('g[data-panel]')].map((group) => ({
      kind: group.parentElement?.id ?? '',
      panel: group.getAttribute('data-panel') ?? '',
      name: group.getAttribute('data-name') ?? '',
      paths: [...group.querySelectorAll('path')].map((path) => ({
        d: path.getAttribute('d') ?? '',
        title: path.querySelector('title')?.textContent ?? '',
        data: { ...path.dataset },
      })),
    }));
    const root = document.documentElement;
    return {
      width: root.getAttribute('width') ?? '',
      viewBox: root.getAttribute('viewBox') ?? '',
      groups,
    };
  }, svg);
  const viewBox = raw.viewBox.split(' ').map(Number);
  // One unit is one millimetre.
  expect(raw.width).toBe(`${viewBox[2]}mm`);
  const of = (panel: string, kind: string) =>
    raw.groups.filter((g) => g.panel === panel && g.kind === kind).flatMap((g) => g.paths);
  const ids = [...new Set(raw.groups.map((g) => g.panel))];
  return {
    width: raw.width,
    viewBox,
    panels: ids.map((id) => ({
      id,
      name: raw.groups.find((g) => g.panel === id)!.name,
      rings: of(id, 'cut').map((path) => {
        expect(path.d.endsWith('Z')).toBe(true);
        return spotsOf(path.d.slice(0, -1));
      }),
      notches: of(id, 'notch').map(({ d, data }) => {
        const [at, to, ...more] = spotsOf(d);
        expect(more).toEqual([]);
        return {
          seam: data.seam ?? '',
          edge: data.edge ?? '',
          along: Number(data.along),
          at: at!,
          to: to!,
        };
      }),
      borders: [...new Set(of(id, 'border').map(({ data }) => data.of ?? ''))],
      letters: [...of(id, 'bevel'), ...of(id, 'lettering')].map(({ title, data }) => ({
        text: title,
        of: data.of ?? '',
      })),
    })),
  };
}

/** Path data of straight lines alone, in absolute coordinates. */
function spotsOf(d: string): Spot[] {
  if (!/^M[\d.\-eL ]+$/.test(d)) throw new Error(`Not a path of straight lines: ${d.slice(0, 60)}`);
  return d
    .slice(1)
    .split('L')
    .map((pair) => {
      const [x, y] = pair.split(' ').map(Number);
      if (x === undefined || y === undefined || Number.isNaN(x + y)) throw new Error(`No point: ${pair}`);
      return { x, y };
    });
}
