/** The shell as it is once darts with a width of their own are glued shut, and what that does to its girth. */
import type { Issue } from '../base';
import { pulledByDarts } from '../foam';
import { type Point3, point3 } from '../math';
import type { Fit, FoamDecisions, Recut } from '../model';
import { foamDepths } from '../model';
import { bendsAt, closedSection, offsetPlaces, offsetVectors } from '../shell';

/** `recut` itself where no dart has a width of its own. */
export function withPulledShell(recut: Recut, fit: Fit, foam: FoamDecisions): Recut {
  const { shell, pattern, seams } = recut;
  if (!shell) return recut;
  const { scale } = fit;
  const pulled = pulledByDarts({ pattern, shell, places: shell.vertices }, seams, scale);
  if (!pulled) return recut;
  const bends = { ...shell.bends, ...bendsAt(pattern, seams, shell, pulled.places) };
  const count = new Set(seams.seams.flatMap((s) => (s.dart && s.dart.width !== null ? [s.dart.edit] : [])));
  const girth = girthChange(recut, fit, foam, pulled.places);
  const note: Issue = {
    code: 'shell-pulled-in',
    severity: 'note',
    stage: 'panels',
    message: `Glued shut, ${count.size === 1 ? 'the dart with a width of its own pulls' : `the ${count.size} darts with widths of their own pull`} the shell in by up to ${(pulled.most * scale).toFixed(1)} mm. It is shown so.${girth}`,
    remedy:
      girth === ''
        ? ''
        : 'Try the size on again where the head is close, or take the width that the panel asks for.',
    place: { ids: [...count] },
  };
  return {
    ...recut,
    pulled: { ...shell, vertices: pulled.places, bends },
    issues: [...recut.issues, note],
  };
}

/** Girths that differ by less are the same for a tape. */
const sameGirth = 0.5;

function girthChange({ shell }: Recut, fit: Fit, foam: FoamDecisions, places: readonly Point3[]): string {
  const measured = fit.shell;
  if (!shell || !measured) return '';
  const { breadth, length, height } = measured.scales;
  const { plane, tautGirth } = measured.insideBrow;
  const girthOf = (vertices: readonly Point3[]) => {
    const sized = vertices.map((p) => point3(p.x * breadth, p.y * length, p.z * height));
    const inside = offsetPlaces(
      sized,
      offsetVectors({ vertices: sized, faces: shell.faces }),
      -foamDepths(foam).inside,
    );
    return closedSection(shell, plane, inside)?.tautGirth ?? null;
  };
  const [before, after] = [girthOf(shell.vertices), girthOf(places)];
  if (before === null || after === null || Math.abs(after - before) < sameGirth) return '';
  const by = after - before;
  return ` Its inside girth at the brow becomes ${Math.abs(by).toFixed(1)} mm ${by < 0 ? 'smaller' : 'larger'}: ${(tautGirth + by).toFixed(1)} mm.`;
}
