/** A stencil from an SVG file that the person picks. */
import { pickFiles, runCommand, selectedFaces } from '../../commands';
import { readShape, session, showNotice } from '../../document';

/** Width where the file does not say how large its shape is, mm: a hand's breadth. */
const usualWidth = 80;
/** A shape wider than a shell is in other units than mm. */
const widest = 600;

/** Reads the file; its shape goes to the first selected face, else to the first of all. A file that can't be read is told. */
export async function importStencil(): Promise<void> {
  const [file] = await pickFiles('.svg,image/svg+xml');
  if (!file) return;
  const shape = await readShape({ name: file.name, svg: file.text });
  if (!shape.ok) return showNotice(`${file.name} can’t be read`, shape.issues);
  const now = session.getState();
  const face = selectedFaces(now)[0] ?? now.results.pattern?.pieces[0]?.faces[0]?.id;
  if (face === undefined) return;
  const { rings, width } = shape.value;
  runCommand('addStencil', {
    name: file.name.replace(/\.svg$/i, '').slice(0, 40) || 'Stencil',
    outline: {
      kind: 'shape',
      rings,
      at: { face, x: 0.5, y: 0.5 },
      turn: 0,
      width: width !== null && width <= widest ? width : usualWidth,
      within: 'shell',
    },
  });
}
