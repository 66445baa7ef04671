/**
 * The frames of a FOLD file, and which of them is the pattern. Source: FOLD specification 1.2, "Multiple Frames" and
 * "Frame Metadata": the top level is frame 0, `file_frames[i]` is frame i + 1; a frame with `frame_inherit` has every
 * property of its parent that it does not state itself.
 */
import type { IssueLog } from './issueLog';
import type { JsonArray, JsonNode, JsonObject } from './jsonTree';

export interface FoldFrame {
  /** 0 for the key frame. */
  readonly number: number;
  /** A property that the frame states or inherits. */
  property(name: string): JsonNode | undefined;
}

/** Every frame of the file, the key frame first. What is no object is left out with a finding. */
export function framesOf(root: JsonObject, log: IssueLog): FoldFrame[] {
  const list = root.members.get('file_frames');
  const nodes: JsonNode[] = [root, ...(list?.kind === 'array' ? list.items : [])];
  const lookUp = (frame: number, name: string, seen: ReadonlySet<number>): JsonNode | undefined => {
    const node = nodes[frame];
    if (node?.kind !== 'object' || seen.has(frame)) return undefined;
    const own = node.members.get(name);
    if (own) return own;
    const inherits = node.members.get('frame_inherit');
    const parent = node.members.get('frame_parent');
    // The key frame has no parent.
    if (frame === 0 || inherits?.kind !== 'boolean' || !inherits.value || parent?.kind !== 'number')
      return undefined;
    return lookUp(parent.value, name, new Set([...seen, frame]));
  };
  return nodes.flatMap((node, number): FoldFrame[] => {
    if (node.kind === 'object')
      return [{ number, property: (name) => lookUp(number, name, new Set<number>()) }];
    log.tell(
      {
        code: 'fold-frame-damaged',
        severity: 'warning',
        message: `Frame ${number} of the file is no list of named values and is left out.`,
        remedy: 'Save the file again from the program that made it, if something is missing.',
      },
      node.offset,
    );
    return [];
  });
}

/** The frames to read as the pattern: flat ones that call themselves crease patterns before all others. */
export function patternFrames(root: JsonObject, frames: readonly FoldFrame[], log: IssueLog): FoldFrame[] {
  const drawn = frames.filter((f) => arrayOf(f, 'vertices_coords') && hasLines(f));
  const flat = drawn.filter((f) => isFlat(arrayOf(f, 'vertices_coords')!));
  const classed = (f: FoldFrame, name: string) => wordsOf(f.property('frame_classes')).includes(name);
  const patterns = flat.filter((f) => classed(f, 'creasePattern'));
  const open = flat.filter((f) => !classed(f, 'foldedForm'));
  const chosen = [patterns, open, flat].find((list) => list.length > 0) ?? [];
  const first = chosen[0];
  if (!first) {
    log.stop(
      drawn.length > 0
        ? {
            code: 'fold-only-folded',
            message: 'The FOLD file holds folded forms in space and no flat crease pattern.',
            remedy: 'Save the crease pattern from the program that made the file, and read that.',
          }
        : {
            code: 'fold-nothing-drawn',
            message:
              'No frame of the FOLD file has vertices with coordinates and edges or faces between them.',
            remedy: 'Save the file again as a crease pattern with coordinates.',
          },
      root.offset,
    );
  }
  if (chosen !== patterns && chosen !== open) {
    log.tell({
      code: 'fold-flat-folded-form',
      severity: 'warning',
      message: 'The file calls its only flat frame a folded form; it is read as the pattern.',
      remedy: 'Check that the pieces lie side by side and not on top of each other.',
    });
  }
  // Several models stand side by side; several frames of one model are steps of it.
  const several = chosen === patterns && wordsOf(root.members.get('file_classes')).includes('multiModel');
  const taken = several ? chosen : [first];
  const left = chosen.length - taken.length;
  if (left > 0) {
    log.tell({
      code: 'fold-frames-left',
      severity: 'note',
      message: `The file holds ${chosen.length} flat frames; ${first.number === 0 ? 'the main one' : `frame ${first.number}`} is read and ${left} left out.`,
      remedy: 'If another frame is meant, save it as a file of its own.',
    });
  }
  return taken;
}

export function arrayOf(frame: FoldFrame, name: string): JsonArray | null {
  const node = frame.property(name);
  return node?.kind === 'array' ? node : null;
}

const hasLines = (f: FoldFrame): boolean =>
  arrayOf(f, 'edges_vertices') !== null || arrayOf(f, 'faces_vertices') !== null;

export const wordsOf = (node: JsonNode | undefined): string[] =>
  node?.kind === 'array' ? node.items.flatMap((i) => (i.kind === 'string' ? [i.value] : [])) : [];

/** A frame counts as flat while its heights differ by less than this part of its size. */
const flatShare = 1e-6;

/** Whether all vertices lie at one height; heights beyond the third coordinate make it no flat frame. */
function isFlat(coords: JsonArray): boolean {
  let [low, high, least, most] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  let any = false;
  for (const item of coords.items) {
    if (item.kind !== 'array') continue;
    const at = item.items.map((c) => (c.kind === 'number' ? c.value : Number.NaN));
    if (!Number.isFinite(at[0]) || !Number.isFinite(at[1])) continue;
    any = true;
    const z = at[2] ?? 0;
    low = Math.min(low, z);
    high = Math.max(high, z);
    least = Math.min(least, at[0]!, at[1]!);
    most = Math.max(most, at[0]!, at[1]!);
    if (at.slice(3).some((c) => c !== 0)) return false;
  }
  return any && high - low <= flatShare * (most - least);
}
