/**
 * Small things that belong to the person and not to a document: theme, unit for new documents, which document was
 * open. Kept in the browser's local storage; where that is blocked they last as long as the page.
 */
import type { PageDecisions, ProjectDocument } from '../../src/model';
import type { Session } from './session';

const themes: readonly Session['theme'][] = ['light', 'dark', 'system'];
const units: readonly ProjectDocument['lengthUnit'][] = ['mm', 'in'];
const themeKey = 'girthwise.theme';
const unitKey = 'girthwise.unit';
const openKey = 'girthwise.open';
const printerKey = 'girthwise.printer';
const singleKeysKey = 'girthwise.singleKeys';

/** Storage access can throw (blocked by settings, full); a preference is then simply not kept. */
function read(kind: 'localStorage' | 'sessionStorage', key: string): string | null {
  try {
    return globalThis[kind]?.getItem(key) ?? null;
  } catch {
    return null;
  }
}

function write(kind: 'localStorage' | 'sessionStorage', key: string, value: string | null): void {
  try {
    if (value === null) globalThis[kind]?.removeItem(key);
    else globalThis[kind]?.setItem(key, value);
  } catch {
    // Not kept; see above.
  }
}

export function rememberedTheme(): Session['theme'] {
  return themes.find((t) => t === read('localStorage', themeKey)) ?? 'system';
}

export function rememberTheme(theme: Session['theme']): void {
  write('localStorage', themeKey, theme);
}

export function rememberedSingleKeys(): boolean {
  return read('localStorage', singleKeysKey) !== 'off';
}

export function rememberSingleKeys(on: boolean): void {
  write('localStorage', singleKeysKey, on ? 'on' : 'off');
}

export function rememberedUnit(): ProjectDocument['lengthUnit'] {
  return units.find((u) => u === read('localStorage', unitKey)) ?? 'mm';
}

export function rememberUnit(unit: ProjectDocument['lengthUnit']): void {
  write('localStorage', unitKey, unit);
}

/** What is known of the printer at this computer. */
export type Printer = Pick<PageDecisions, 'measured' | 'reach'>;

const unknownPrinter: Printer = { measured: null, reach: null };

/** New documents start with it; what was saved by another program or by hand, and does not read as a printer, is none. */
export function rememberedPrinter(): Printer {
  try {
    const kept = JSON.parse(read('localStorage', printerKey) ?? 'null') as Partial<Printer> | null;
    const lengths = (names: readonly string[], of: unknown): boolean =>
      typeof of === 'object' &&
      of !== null &&
      names.every((n) => Number.isFinite((of as Record<string, unknown>)[n]));
    return {
      measured: lengths(['x', 'y'], kept?.measured) ? (kept?.measured ?? null) : null,
      reach: lengths(['left', 'right', 'top', 'bottom'], kept?.reach) ? (kept?.reach ?? null) : null,
    };
  } catch {
    return unknownPrinter;
  }
}

export function rememberPrinter({ measured, reach }: Printer): void {
  write('localStorage', printerKey, measured || reach ? JSON.stringify({ measured, reach }) : null);
}

/** The document to come back to: this tab's own first, else the one that was open last anywhere. */
export function rememberedOpen(): string | null {
  return read('sessionStorage', openKey) ?? read('localStorage', openKey);
}

export function rememberOpen(id: string | null): void {
  write('sessionStorage', openKey, id);
  write('localStorage', openKey, id);
}
