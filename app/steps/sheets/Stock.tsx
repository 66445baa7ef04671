import { FileInput, Pentagon, Plus, Trash2 } from 'lucide-react';
import { useState } from 'react';
import { boxOf, type Point, ringArea } from '../../../src/math';
import type { Panel, SheetDecisions, StockSheet } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { freshSheetId, pickFiles, runCommand } from '../../commands';
import { readOffcut, showNotice } from '../../document';
import { LengthField, NumberField, SelectField } from '../../ui/fields';
import { Part } from '../Sheet';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';
import { type FoamKind, foamKinds, foamWords, sheetPresets } from './sheetRows';

const setStock = (
  label: string,
  change: (stock: readonly StockSheet[]) => readonly StockSheet[],
  live: { readonly key: string; readonly live: boolean } | null = null,
) => decidePart('sheets', label, (old: SheetDecisions) => ({ ...old, stock: change(old.stock) }), live);

/** The sheets of foam that are there or bought, kind by kind. */
export function Stock({ panels }: { readonly panels: readonly Panel[] }) {
  const { sheets, build } = useDecisions();
  const unit = useUnit();
  const size = (mm: number, bare: boolean) =>
    formatLength(mm, unit, { bare, decimals: unit === 'mm' ? 0 : 1 });
  return (
    <Part title="Sheets of foam">
      {foamKinds(panels, sheets.stock).map((kind) => {
        const own = sheets.stock.filter(
          (s) => s.thickness === kind.thickness && s.material === kind.material,
        );
        return (
          <fieldset key={`${kind.thickness} ${kind.material}`} className="stack">
            <legend className="field-label">
              {foamWords(kind, unit)} foam{kind.used ? '' : ' (nothing is cut from it)'}
            </legend>
            {own.every((s) => s.shape.kind === 'offcut') ? (
              <p className="hint">
                As many as it takes of {size(build.sheet.width, true)} × {size(build.sheet.height, false)}, as
                in Build. Add the sheets that you have, to use those instead.
              </p>
            ) : null}
            {own.map((sheet) => (
              <StockRow key={sheet.id} sheet={sheet} />
            ))}
            <AddSheet kind={kind} />
          </fieldset>
        );
      })}
    </Part>
  );
}

function StockRow({ sheet }: { readonly sheet: StockSheet }) {
  const unit = useUnit();
  const { rates, currency } = useDecisions().build;
  const { shape } = sheet;
  const set = (label: string, change: Partial<StockSheet>, live = false) =>
    setStock(label, (stock) => stock.map((s) => (s.id === sheet.id ? { ...s, ...change } : s)), {
      key: `sheets.stock.${sheet.id}.${Object.keys(change).join()}`,
      live,
    });
  return (
    <div className="pairs stock-row">
      {shape.kind === 'rectangle' ? (
        <>
          <LengthField
            label="Width"
            unit={unit}
            min={20}
            max={10000}
            value={shape.width}
            onCommit={(width, live) => set('Width of a sheet', { shape: { ...shape, width } }, live)}
            onSettle={endMerge}
          />
          <LengthField
            label="Height"
            unit={unit}
            min={20}
            max={10000}
            value={shape.height}
            onCommit={(height, live) => set('Height of a sheet', { shape: { ...shape, height } }, live)}
            onSettle={endMerge}
          />
        </>
      ) : (
        <OffcutSize outline={shape.outline} set={set} sheet={sheet} />
      )}
      <NumberField
        label="How many"
        kind="count"
        by={1}
        min={0}
        max={999}
        value={sheet.count}
        onCommit={(count, live) => set('Number of sheets', { count }, live)}
        onSettle={endMerge}
      />
      {shape.kind === 'rectangle' ? (
        <NumberField
          label={`Price of one${currency ? `, ${currency}` : ''}`}
          kind="ratio"
          by={0.5}
          min={0}
          max={100000}
          value={sheet.price ?? rates.sheetPrice}
          hint={sheet.price === null ? 'As in Build.' : 'Empty it to take the price from Build.'}
          onCommit={(price, live) => set('Price of a sheet', { price }, live)}
          onClear={() => set('Price of a sheet', { price: null })}
          onSettle={endMerge}
        />
      ) : (
        <p className="hint">At hand: costs nothing.</p>
      )}
      <button
        type="button"
        aria-label="Take this sheet off the list"
        title="Take this sheet off the list"
        onClick={() =>
          setStock('Take a sheet off the list', (stock) => stock.filter((s) => s.id !== sheet.id))
        }
      >
        <Trash2 aria-hidden="true" size={16} />
      </button>
    </div>
  );
}

/** An offcut that was typed is a rectangle and stays one; one that was read keeps its outline. */
function OffcutSize({
  outline,
  set,
  sheet,
}: {
  readonly sheet: StockSheet;
  readonly outline: readonly Point[];
  readonly set: (label: string, change: Partial<StockSheet>, live?: boolean) => void;
}) {
  const unit = useUnit();
  const { maxX: width, maxY: height } = boxOf(outline);
  const area = `${(Math.abs(ringArea(outline)) / 1e4).toFixed(1)} dm²`;
  const isRectangle = Math.abs(ringArea(outline) - width * height) < 1e-6 * width * height;
  const resize = (to: { width: number; height: number }, live: boolean) =>
    set('Size of an offcut', { shape: { kind: 'offcut', outline: rectangle(to.width, to.height) } }, live);
  if (!isRectangle)
    return (
      <div className="stack">
        <p>
          Offcut, {formatLength(width, unit, { bare: true, decimals: unit === 'mm' ? 0 : 1 })} ×{' '}
          {formatLength(height, unit, { decimals: unit === 'mm' ? 0 : 1 })} at most, {area}
        </p>
        <button
          type="button"
          onClick={() =>
            runCommand('startOffcut', {
              thickness: sheet.thickness,
              material: sheet.material,
              changes: sheet.id,
            })
          }
        >
          <Pentagon aria-hidden="true" size={16} /> Change its corners
        </button>
      </div>
    );
  return (
    <>
      <LengthField
        label="Offcut, width"
        unit={unit}
        min={20}
        max={10000}
        value={width}
        onCommit={(w, live) => resize({ width: w, height }, live)}
        onSettle={endMerge}
      />
      <LengthField
        label="Height"
        unit={unit}
        min={20}
        max={10000}
        value={height}
        onCommit={(h, live) => resize({ width, height: h }, live)}
        onSettle={endMerge}
      />
    </>
  );
}

const rectangle = (width: number, height: number): Point[] => [
  { x: 0, y: 0 },
  { x: width, y: 0 },
  { x: width, y: height },
  { x: 0, y: height },
];

/** Reads the outline of an offcut from a file that the person picks. */
async function pickOffcut(kind: FoamKind): Promise<void> {
  const [file] = await pickFiles();
  if (!file) return;
  const outline = await readOffcut({ name: file.name, svg: file.text });
  if (outline.ok) addOffcut(kind, outline.value);
  else showNotice('The offcut can’t be read', outline.issues);
}

const addOffcut = ({ thickness, material }: FoamKind, outline: readonly Point[]) =>
  setStock('Add an offcut', (stock) => [
    ...stock,
    {
      id: freshSheetId(stock),
      ...{ thickness, material, count: 1, price: null },
      shape: { kind: 'offcut', outline },
    },
  ]);

function AddSheet({ kind }: { readonly kind: FoamKind }) {
  const unit = useUnit();
  const [chosen, setChosen] = useState('0');
  const preset = sheetPresets[Number(chosen)] ?? sheetPresets[0]!;
  return (
    <>
      <div className="row">
        <SelectField
          label={`Size of a sheet of ${foamWords(kind, unit)} foam`}
          labelHidden
          value={chosen}
          options={sheetPresets.map((p, k) => ({ value: String(k), label: p.words }))}
          onChange={setChosen}
        />
        <button
          type="button"
          onClick={() =>
            setStock('Add a sheet', (stock) => [
              ...stock,
              {
                id: freshSheetId(stock),
                ...{ thickness: kind.thickness, material: kind.material, count: 1, price: null },
                shape: { kind: 'rectangle', width: preset.width, height: preset.height },
              },
            ])
          }
        >
          <Plus aria-hidden="true" size={16} /> Add a sheet
        </button>
      </div>
      <div className="buttons">
        <button type="button" onClick={() => addOffcut(kind, rectangle(300, 200))}>
          <Plus aria-hidden="true" size={16} /> Add an offcut
        </button>
        <button
          type="button"
          onClick={() =>
            runCommand('startOffcut', {
              thickness: kind.thickness,
              material: kind.material,
              changes: null,
            })
          }
        >
          <Pentagon aria-hidden="true" size={16} /> Draw an offcut
        </button>
        <button type="button" onClick={() => void pickOffcut(kind)}>
          <FileInput aria-hidden="true" size={16} /> Offcut from SVG…
        </button>
      </div>
    </>
  );
}
