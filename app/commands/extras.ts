/** Extra parts beside the shell's panels. Each is a few words of the person's; sizes are computed anew each time. */
import {
  type Decisions,
  drawnLayer,
  type ExtraPart,
  newStencil,
  type PlacedShape,
  rootOf,
  type ShellOutline,
} from '../../src/model';
import { pickFaces, type Session, shownIn } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { indexOf } from './selection';

type WithoutId<T> = T extends ExtraPart ? Omit<T, 'id'> : never;
/** A part before it has an id. */
export type NewPart = WithoutId<ExtraPart>;

const withParts = (d: Decisions, parts: readonly ExtraPart[]): Decisions => ({
  ...d,
  extras: { ...d.extras, parts },
});

/** A new part from an outline, with a name that no other has. */
export function withNewPart(
  d: Decisions,
  as: 'layer' | 'stencil',
  outline: ShellOutline,
  called?: string,
): Decisions {
  const made = as === 'layer' ? drawnLayer(outline) : newStencil(outline);
  const part = { ...made, name: freeName(called ?? made.name, d.extras.parts), id: nextId(d.extras) };
  return withParts(d, [...d.extras.parts, part]);
}

/** A name that no other part has. */
export function freeName(wanted: string, parts: readonly ExtraPart[]): string {
  const taken = new Set(parts.map((p) => p.name));
  if (!taken.has(wanted)) return wanted;
  for (let n = 2; ; n++) if (!taken.has(`${wanted} ${n}`)) return `${wanted} ${n}`;
}

/** Ids count on from the highest. */
const nextId = ({ parts }: Decisions['extras']): string =>
  `x${parts.reduce((n, p) => Math.max(n, Number(p.id.replace(/^x/, '')) || 0), 0) + 1}`;

export const addExtra = command<{ readonly part: NewPart }>({
  id: 'addExtra',
  label: () => 'Add a part',
  enabled: withDocument,
  run: (_s, { part }) =>
    change(`Add ${part.name}`, (d) =>
      withParts(d, [...d.extras.parts, { ...part, id: nextId(d.extras) } as ExtraPart]),
    ),
});

/** Several parts as one step. */
export const addExtras = command<{ readonly label: string; readonly parts: readonly NewPart[] }>({
  id: 'addExtras',
  label: () => 'Add parts',
  enabled: withDocument,
  run: (_s, { label, parts }) =>
    change(label, (d) =>
      parts.reduce(
        (all, part) =>
          withParts(all, [...all.extras.parts, { ...part, id: nextId(all.extras) } as ExtraPart]),
        d,
      ),
    ),
});

/** Replaces a part by a changed one of the same id. */
export const changeExtra = command<{ readonly part: ExtraPart; readonly merge?: string }>({
  id: 'changeExtra',
  label: () => 'Change a part',
  enabled: withDocument,
  run: (_s, { part, merge }) =>
    change(
      `Change ${part.name}`,
      (d) =>
        withParts(
          d,
          d.extras.parts.map((p) => (p.id === part.id ? part : p)),
        ),
      merge === undefined ? {} : { merge },
    ),
});

/** A stencil from a shape; a face of a changed panel is told by the face that it was drawn as. */
export const addStencil = command<{ readonly name: string; readonly outline: PlacedShape }>({
  id: 'addStencil',
  label: () => 'Add a stencil',
  enabled: withDocument,
  run: (_s, { name, outline }) => {
    const { at } = outline;
    const whole = { ...outline, at: { ...at, face: rootOf(at.face) } };
    return change(`Add ${name}`, (d) => withNewPart(d, 'stencil', whole, name));
  },
});

export const takeOutExtra = command<{ readonly part: string }>({
  id: 'takeOutExtra',
  label: () => 'Take this part out',
  enabled: withDocument,
  run: (_s, { part }) =>
    change('Take a part out', (d) =>
      withParts(
        d,
        d.extras.parts.filter((p) => p.id !== part),
      ),
    ),
});

const faceIds = (s: Session): ReadonlySet<string> =>
  new Set(shownIn(s).pattern?.pieces.flatMap((p) => p.faces.map((f) => f.id)) ?? []);

/** Faces that are selected themselves, and all faces of selected panels. */
export function selectedFaces(s: Session): readonly string[] {
  if (s.selection.length === 0) return [];
  const known = faceIds(s);
  const { pieces } = indexOf(shownIn(s).pattern);
  const found = s.selection.flatMap((id) => {
    const piece = pieces.get(id);
    return piece ? piece.faces.map((f) => f.id) : known.has(id) ? [id] : [];
  });
  return [...new Set(found)];
}

/** A click on bench or shell takes a face, until it is switched off or another step is opened. */
export const pickSingleFaces = command<{ readonly on?: boolean } | undefined>({
  id: 'pickSingleFaces',
  label: (s) => (s.pickingFaces ? 'Stop picking faces' : 'Pick single faces'),
  keys: ['Shift+f'],
  enabled: (s) => (s.step === 'panels' ? true : 'Faces are picked in the Panels step.'),
  run: (s, args) => {
    if (s.step !== 'panels') return refuse('Faces are picked in the Panels step.');
    return effect(() => pickFaces(args?.on ?? !s.pickingFaces));
  },
});
