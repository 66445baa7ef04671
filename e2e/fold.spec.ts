/** A FOLD file dropped on the page becomes a pattern, and the menu hands out one that keeps the published rules. */
import { expect, test } from '@playwright/test';
import { brokenRules, foldFrames } from '../tests/support/foldRules';
import { handedOut, settled } from './support/work';

/** Four triangles in a row with 60 mm sides: the net of a tetrahedron, its three pairs of edges glued. */
const net = {
  file_spec: 1.2,
  frame_classes: ['creasePattern'],
  frame_unit: 'mm',
  vertices_coords: [0, 60, 120, 30, 90, 150].map((x, i) => [x, i < 3 ? 0 : 30 * Math.sqrt(3)]),
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 5],
    [5, 4],
    [4, 3],
    [3, 0],
    [1, 3],
    [1, 4],
    [2, 4],
  ],
  edges_assignment: [...'BBBBBBMMM'],
  faces_vertices: [
    [0, 1, 3],
    [1, 4, 3],
    [1, 2, 4],
    [2, 5, 4],
  ],
  'edges_girthwise:mate': [1, 0, 5, 4, 3, 2, null, null, null],
};

test('a FOLD file is opened, folded up and handed out again', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Open a pattern' }).waitFor();
  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'net.fold'));
    document.body.dispatchEvent(
      new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }),
    );
  }, JSON.stringify(net));
  await expect(page.getByText('The file itself says what these lines are.').first()).toBeVisible();
  await settled(page);
  await page.getByRole('button', { name: 'Menu' }).click();
  const file = await handedOut(page, () =>
    page.getByRole('button', { name: 'Pattern and shell as FOLD' }).click(),
  );
  expect(file.name).toBe('net-shell.fold');
  const text = file.bytes.toString('utf8');
  expect(brokenRules(text)).toEqual([]);
  const [flat, , glued] = foldFrames(text);
  expect(flat!.faces_vertices).toHaveLength(4);
  expect(flat!.edges_assignment.filter((a) => a === 'M')).toHaveLength(3);
  // Dihedral angle arccos(1/3) = 70.5288° (textbook): a fold angle of 109.4712°, mountains negative.
  expect(glued!.edges_foldAngle).toHaveLength(6);
  for (const angle of glued!.edges_foldAngle!) expect(angle).toBeCloseTo(-109.4712, 2);
});
