import type { StencilPart } from '../../../src/model';
import { Choice } from '../../ui/fields';
import { OutlineFields } from './OutlineFields';
import { put, Side, Size } from './partFields';

/** What a stencil is: covering or painted through, where and how large. */
export function StencilFields({ part }: { readonly part: StencilPart }) {
  return (
    <>
      <Choice
        legend="It is"
        value={part.way}
        layout="list"
        options={[
          { value: 'mask', label: 'A mask', hint: 'The shape itself: it covers what is not to be painted.' },
          {
            value: 'window',
            label: 'A window',
            hint: 'A sheet with the shape cut out: it is painted through.',
          },
        ]}
        onChange={(way) => put({ ...part, way })}
      />
      {part.way === 'window' ? (
        <Size
          label="Sheet round the shape"
          value={part.border}
          min={0}
          max={200}
          hint="It ends at the seams of its panel."
          change={(border) => ({ ...part, border })}
        />
      ) : null}
      <OutlineFields part={part} outline={part.outline} />
      <Side part={part} />
    </>
  );
}
