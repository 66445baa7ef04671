import { Fragment } from 'react';
import type { BendSource, FoamResult, SeamPreparation, Seams } from '../../../src/model';
import { degrees, formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { hover, select, useSession } from '../../document';
import { AngleField, angleText, SelectField } from '../../ui/fields';
import { showOnBench } from '../ShowButton';
import { endMerge, useDecisions, useUnit } from '../useWork';
import { type NamedFoamRow, nameFoamRows } from './foamRows';

/** The seam list: what meets what once the thickness is allowed for. A row opens to set its bend and its cut. */
export function FoamSeams({ foam, seams }: { readonly foam: FoamResult; readonly seams: Seams | null }) {
  const selection = useSession((s) => s.selection);
  const unit = useUnit();
  const rows = nameFoamRows(foam, seams);
  const sides = new Map(seams?.seams.map((seam) => [seam.id, [seam.a.edge, seam.b.edge]]));
  if (rows.length === 0) return <p className="hint">There are no seams yet.</p>;
  const length = (value: number, decimals = 1) => formatLength(value, unit, { bare: true, decimals });
  const panelNames = new Map(foam.panels.map((panel) => [panel.id, `Panel ${panel.name}`]));
  const bySeam = new Map(seams?.seams.map((seam) => [seam.id, seam]));
  const names = (row: NamedFoamRow): readonly [string, string] => {
    const seam = bySeam.get(row.seam);
    const name = (piece: string | undefined) => panelNames.get(piece ?? '') ?? 'the other panel';
    return [name(seam?.a.piece), name(seam?.b.piece)];
  };
  const isOn = (row: NamedFoamRow) =>
    selection.includes(row.seam) || (sides.get(row.seam) ?? []).some((edge) => selection.includes(edge));
  return (
    <table className="table table-dense">
      <caption className="hint">
        Lengths in {unit} on the traced face while flat, kerf taken off; they differ once folds that end there
        are bent, and “Differ” is what is left then. Choose a seam to set its bend and cut.
      </caption>
      <thead>
        <tr>
          <th scope="col">Seam</th>
          <th scope="col" className="number">
            Lengths
          </th>
          <th scope="col" className="number">
            Differ
          </th>
          <th scope="col" className="number">
            Wedge
          </th>
          <th scope="col" className="number">
            Bevel
          </th>
          <th scope="col" className="number">
            Bend
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => {
          const on = isOn(row);
          return (
            <Fragment key={row.seam}>
              <tr
                data-on={on || undefined}
                onPointerEnter={() => hover(row.seam)}
                onPointerLeave={() => hover(null)}
              >
                <th scope="row">
                  <button
                    type="button"
                    className="row-button"
                    aria-expanded={on}
                    aria-label={`Seam ${row.name}`}
                    onClick={() => (on ? select([]) : showOnBench([row.seam]))}
                  >
                    {row.name}
                  </button>
                </th>
                <td className="number">
                  {length(row.lengthA)} · {length(row.lengthB)}
                </td>
                <td className="number">{length(row.mismatch, 2)}</td>
                <td className="number">{row.openWedge > 0 ? length(row.openWedge) : '–'}</td>
                <td className="number">
                  {row.preparation === 'bevel'
                    ? `${Math.round(degrees(row.bevel) * 10) / 10}°`
                    : cutWords[row.preparation]}
                </td>
                <td className="number">
                  {row.bend === null ? 'not set' : `${angleText(row.bend)}°`}
                  {row.bendFrom && row.bendFrom !== 'shell' ? (
                    <small className="soft"> {bendWords[row.bendFrom]}</small>
                  ) : null}
                </td>
              </tr>
              {on ? (
                <tr className="row-detail">
                  <td colSpan={6}>
                    <RowControls row={row} panels={names(row)} />
                  </td>
                </tr>
              ) : null}
            </Fragment>
          );
        })}
      </tbody>
    </table>
  );
}

/** Where a bend in force is from, in a word; those of the shell are the rule and go without one. */
const bendWords: Readonly<Record<Exclude<BendSource, 'shell'>, string>> = {
  typed: 'typed',
  file: 'by the file',
  kind: 'by kind',
};

/** How a seam is cut, in a word; bevels are told by their angle. */
const cutWords: Readonly<Record<SeamPreparation, string>> = {
  bevel: 'bevel',
  square: 'square',
  flush: 'flush',
  lapped: 'lapped',
};

/** What the numbers of a row rest on, as a sentence or two. */
function seamWords(row: NamedFoamRow, unit: 'mm' | 'in'): string {
  const length = (value: number) => formatLength(value, unit, { decimals: 2 });
  const touch = row.touches === 'both' ? '' : ` The ${row.touches} touches first.`;
  return row.way === 'shell'
    ? `At the neutral layer the sides are ${length(row.neutralA)} and ${length(row.neutralB)} long. Bending changes them by ${length(row.stretchA)} and ${length(row.stretchB)} where they are glued.${touch}`
    : `Made from the flat drawing, not from the shell: at the neutral layer the sides are ${length(row.neutralA)} and ${length(row.neutralB)} long.${touch}`;
}

function RowControls({
  row,
  panels,
}: {
  readonly row: NamedFoamRow;
  readonly panels: readonly [string, string];
}) {
  const unit = useUnit();
  const { foam } = useDecisions();
  const own = foam.bends[row.seam] ?? null;
  const all = foam.preparation === 'rules' ? 'by its bend' : cutWords[foam.preparation];
  return (
    <div className="pairs">
      <AngleField
        label={`Bend of seam ${row.name}`}
        value={own}
        min={-Math.PI}
        max={Math.PI}
        placeholder={row.bend === null ? 'not set' : angleText(row.bend)}
        onCommit={(angle, live) =>
          runCommand('setBend', { angle, ids: [row.seam], ...(live ? { merge: `bend ${row.seam}` } : {}) })
        }
        onClear={() => runCommand('setBend', { angle: null, ids: [row.seam] })}
        {...(own === null ? {} : { hint: 'Typed by you. Empty it to take the shell’s again.' })}
        onSettle={endMerge}
      />
      <SelectField<SeamPreparation | 'all'>
        label={`Cut of seam ${row.name}`}
        value={foam.preparationOf[row.seam] ?? 'all'}
        options={[
          { value: 'all', label: `as all (${all})` },
          { value: 'bevel', label: 'bevel' },
          { value: 'square', label: 'square' },
          { value: 'flush', label: 'square, flush' },
          { value: 'lapped', label: 'lapped' },
        ]}
        onChange={(value) =>
          runCommand('setPreparation', { seams: [row.seam], preparation: value === 'all' ? null : value })
        }
      />
      {row.preparation === 'lapped' ? (
        <SelectField<'a' | 'b'>
          label="Runs past the other"
          value={row.over ?? 'a'}
          options={[
            { value: 'a', label: panels[0] },
            { value: 'b', label: panels[1] },
          ]}
          onChange={(over) => runCommand('setLapOver', { over, seams: [row.seam] })}
        />
      ) : null}
      <p className="hint">{seamWords(row, unit)}</p>
    </div>
  );
}
