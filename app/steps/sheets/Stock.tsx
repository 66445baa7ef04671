import { Plus, Trash2 } from 'lucide-react';
import { useState } from 'react';
import type { Panel, SheetDecisions, StockSheet } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { LengthField, NumberField, SelectField } from '../../ui/fields';
import { Part } from '../Sheet';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';
import { type FoamKind, foamKinds, foamWords, freshSheetId, sheetPresets } from './sheetRows';

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
            {own.length === 0 ? (
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
  const { shape } = sheet;
  const set = (label: string, change: Partial<StockSheet>, live = false) =>
    setStock(label, (stock) => stock.map((s) => (s.id === sheet.id ? { ...s, ...change } : s)), {
      key: `sheets.stock.${sheet.id}.${Object.keys(change).join()}`,
      live,
    });
  return (
    <div className="stock-row">
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
        <p>Offcut</p>
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

function AddSheet({ kind }: { readonly kind: FoamKind }) {
  const unit = useUnit();
  const [chosen, setChosen] = useState('0');
  const preset = sheetPresets[Number(chosen)] ?? sheetPresets[0]!;
  return (
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
  );
}
