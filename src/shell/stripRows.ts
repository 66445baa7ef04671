import type { Hinges } from './hinge';
import type { ShellTopology } from './topology';

/** A flat strip between two rulings of a bent face. */
export interface RuledStrip {
  /** The bent face, by number. */
  readonly sheet: number;
  /** Its piece has folds: drawn where it bends, so that its faces are flat as far as lengths allow. */
  readonly creased: boolean;
}

/** The rows of smoothness within bent faces, and the hinges that have no others. */
export interface StripRows {
  readonly rows: (readonly (readonly [number, number])[])[];
  readonly settled: Uint8Array;
}

/**
 * Rulings stand in equal steps, so a sheet that bends as one arc bends alike at all of them. Ten times a row of a net:
 * from 3 on a keel of known ridge comes out within 1 % of the size, from 10 within 0.2 % (Keel bracer, its ridge typed).
 */
const oneArc = 10;
/** Flatness of the faces of a piece with folds; 0.3 leaves the keel's flanks round (0.7 % off), 10 is as good as 3. */
const flatBesideFolds = 3;

/**
 * What bends beside a fold or seam that rulings do not cross is for the lengths alone: a crease may be sharp.
 * @param strips by face, null for faces that are no strip
 */
export function stripRows(
  topology: ShellTopology,
  hinges: Hinges,
  strips: readonly (RuledStrip | null)[],
): StripRows {
  const settled = new Uint8Array(hinges.count);
  const rulingsOf: number[][] = topology.faces.map(() => []);
  for (let h = 0; h < hinges.count; h++) {
    const { left, right } = topology.edges[hinges.edgeOf[h]!]!;
    const [own, other] = [strips[left], strips[right]];
    if (!own && !other) continue;
    settled[h] = 1;
    if (own?.sheet !== other?.sheet) continue;
    rulingsOf[left]!.push(h);
    rulingsOf[right]!.push(h);
  }
  const rows = rulingsOf.flatMap((rulings, f) =>
    rulings.flatMap((h, i) => [
      ...rulings.slice(i + 1).map((other) => [[h, oneArc] as const, [other, -oneArc] as const]),
      ...(strips[f]?.creased ? [[[h, flatBesideFolds] as const]] : []),
    ]),
  );
  return { rows, settled };
}
