/** Points of faces: from the drawing to parts of the box round a face, and back. */
import { boxOf, type Point } from '../math';
import type { FacePoint } from './panelEdits';

/** A point of the drawing as parts of the box round a face. */
export function toParts(face: string, ring: readonly Point[], p: Point): FacePoint {
  const box = boxOf([...ring]);
  const [w, h] = [box.maxX - box.minX, box.maxY - box.minY];
  return { face, x: w === 0 ? 0 : (p.x - box.minX) / w, y: h === 0 ? 0 : (p.y - box.minY) / h };
}

/** The point of the drawing again. */
export function fromParts({ x, y }: FacePoint, ring: readonly Point[]): Point {
  const box = boxOf([...ring]);
  return { x: box.minX + x * (box.maxX - box.minX), y: box.minY + y * (box.maxY - box.minY) };
}
