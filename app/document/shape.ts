/** A shape for a stencil from an SVG file. */
import { type Outcome, succeed } from '../../src/base';
import type { ClosedShape } from '../../src/drawing';
import { boxOf } from '../../src/math';
import type { PatternSource } from '../../src/model';

export interface ReadShape extends ClosedShape {
  /** As the file says; null when it does not say how large it is. */
  readonly width: number | null;
}

/** The reader of drawings is large: it is loaded when the first shape is asked for. */
export async function readShape(source: PatternSource): Promise<Outcome<ReadShape>> {
  const { closedShape, readDrawing } = await import('../../src/drawing');
  const read = readDrawing(source, { file: 0, size: { kind: 'ask' } });
  if (!read.ok) return read;
  const shape = closedShape(read.value, source.name);
  if (!shape.ok) return shape;
  const box = boxOf(shape.value.rings.flat());
  const known = read.value.size.from.kind !== 'none';
  return succeed({ ...shape.value, width: known ? box.maxX - box.minX : null }, read.issues);
}
