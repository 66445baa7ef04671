/** How the folded shell stands, and whether its bends are taken. */
import type { Decisions, ShellDecisions } from '../../src/model';
import type { Rad } from '../../src/units';
import { change, command, refuse, withDocument } from './command';

const shell = (d: Decisions, part: Partial<ShellDecisions>): Decisions => ({
  ...d,
  shell: { ...d.shell, ...part },
});

/** The same turn, within half a turn either way. */
function within(angle: Rad): Rad {
  const turn = 2 * Math.PI;
  const rest = angle - turn * Math.round(angle / turn);
  return rest === 0 ? 0 : rest;
}

/** Turns on top of the proposed orientation, radians; axes left out stay as they are. */
export const turnShell = command<Partial<ShellDecisions['turned']> & { readonly merge?: string }>({
  id: 'turnShell',
  label: () => 'Turn the shell',
  enabled: withDocument,
  run: (_s, { merge, ...turns }) => {
    const given = Object.values(turns);
    if (given.length === 0 || !given.every(Number.isFinite)) return refuse('Give the angle of a turn.');
    return change(
      'Turn the shell',
      (d) => {
        const { x, y, z } = { ...d.shell.turned, ...turns };
        return shell(d, { turned: { x: within(x), y: within(y), z: within(z) } });
      },
      merge === undefined ? {} : { merge },
    );
  },
});

/** Back to the proposed orientation. */
export const turnShellBack = command({
  id: 'turnShellBack',
  label: () => 'Turn back as proposed',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    const { x, y, z } = s.document.decisions.shell.turned;
    return x !== 0 || y !== 0 || z !== 0 ? true : 'The shell stands as proposed.';
  },
  run: () => change('Turn the shell back', (d) => shell(d, { turned: { x: 0, y: 0, z: 0 } })),
});

/** Takes the bends of a shell although it folds up doubtfully, or stops taking them. */
export const trustDoubtful = command<{ readonly trust: boolean }>({
  id: 'trustDoubtful',
  label: () => 'Take its bends anyway',
  enabled: withDocument,
  run: (_s, { trust }) =>
    change(trust ? 'Take the doubtful bends' : 'Leave the doubtful bends', (d) =>
      shell(d, { trustDoubtful: trust }),
    ),
});
