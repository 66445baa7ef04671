/** The shell moved along its softest free motion. */
import { add3, scaleBy3 } from '../../src/math';
import type { ShellModel } from './model';
import { ballOf } from './orbit';
import { placesOf } from './painting';

/** The vertex that moves most goes so far, as a part of the shell's radius: to be seen, and still the same shell. */
const farthest = 0.12;

/** @param breath −1 to 1. A shell without free motions stays. */
export function breathingPlaces(model: ShellModel, breath: number): Float64Array {
  const mode = model.shell.softModes[0];
  if (!mode) return model.folding.at(1);
  const k = breath * farthest * ballOf(model.folding.at(1)).radius;
  return placesOf(
    model,
    model.shell.vertices.map((p, v) => add3(p, scaleBy3(mode[v]!, k))),
  );
}
