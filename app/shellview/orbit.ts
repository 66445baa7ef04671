/**
 * The viewer's place: orbit, pan, zoom, in parallel projection. Pure: gestures and keys make new views, and the same
 * view gives the same screen positions for drawing, picking and labels.
 */
import { add3, dot3, norm3, type Point3, point3, scaleBy3, subtract3, unitOf3 } from '../../src/math';
import type { Shell, ShellPicture } from '../../src/model';
import {
  faceNormals,
  pictureView,
  type Surface,
  type ViewAxes,
  type ViewDirection,
  viewAxes,
} from '../../src/shell';
import type { Rad } from '../../src/units';

export interface View {
  /** 0 in front, + towards the wearer's right. */
  readonly azimuth: Rad;
  readonly elevation: Rad;
  /** 1 shows everything. */
  readonly zoom: number;
  /** How far the look is moved off the middle, in radii of what is shown. */
  readonly panX: number;
  readonly panY: number;
}

export const homeView: View = { ...pictureView, zoom: 1, panX: 0, panY: 0 };

/** Straight looks, for buttons. */
export const straightViews = {
  front: { azimuth: 0, elevation: 0 },
  right: { azimuth: Math.PI / 2, elevation: 0 },
  back: { azimuth: Math.PI, elevation: 0 },
  left: { azimuth: -Math.PI / 2, elevation: 0 },
  top: { azimuth: 0, elevation: Math.PI / 2 },
} as const;

/** The ball round what is shown as a part of the picture: what is shown seldom reaches the ball itself. */
export const fill = 1.08;
const nearest = 12;
const farthest = 0.4;
const widestPan = 2;

const clamp = (v: number, low: number, high: number) => Math.min(high, Math.max(low, v));
const within = (angle: Rad): Rad => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

export function turned(view: View, azimuth: Rad, elevation: Rad): View {
  return {
    ...view,
    azimuth: within(view.azimuth + azimuth),
    elevation: clamp(view.elevation + elevation, -Math.PI / 2, Math.PI / 2),
  };
}

/** Zoomed by a factor about a point of the picture (radii from its middle, y up), which stays where it is. */
export function zoomed(view: View, by: number, about = { x: 0, y: 0 }): View {
  const zoom = clamp(view.zoom * by, farthest, nearest);
  const k = 1 / view.zoom - 1 / zoom;
  return {
    ...view,
    zoom,
    panX: clamp(view.panX + about.x * k, -widestPan, widestPan),
    panY: clamp(view.panY + about.y * k, -widestPan, widestPan),
  };
}

/** Moves what is shown by so many radii at zoom 1 to the right and up. */
export function panned(view: View, x: number, y: number): View {
  return {
    ...view,
    panX: clamp(view.panX - x / view.zoom, -widestPan, widestPan),
    panY: clamp(view.panY - y / view.zoom, -widestPan, widestPan),
  };
}

/** Step of one press of an arrow key. */
const keyTurn: Rad = Math.PI / 12;
const keyPan = 0.15;
const keyZoom = 1.25;

/** The view after a key, or null for a key that is none of the view's. */
export function keyed(view: View, key: string, shift: boolean): View | null {
  switch (key) {
    case 'ArrowLeft':
      return shift ? panned(view, -keyPan, 0) : turned(view, keyTurn, 0);
    case 'ArrowRight':
      return shift ? panned(view, keyPan, 0) : turned(view, -keyTurn, 0);
    case 'ArrowUp':
      return shift ? panned(view, 0, keyPan) : turned(view, 0, -keyTurn);
    case 'ArrowDown':
      return shift ? panned(view, 0, -keyPan) : turned(view, 0, keyTurn);
    case '+':
    case '=':
      return zoomed(view, keyZoom);
    case '-':
    case '_':
      return zoomed(view, 1 / keyZoom);
    case 'Home':
      return homeView;
    default:
      return null;
  }
}

const around = ['front', 'front right', 'right', 'back right', 'back', 'back left', 'left', 'front left'];
const steep: Rad = (70 * Math.PI) / 180;
const slanting: Rad = (15 * Math.PI) / 180;

/** What is seen, in words: "Seen from front right, a little above". */
export function seenFrom(view: View): string {
  if (view.elevation > steep) return 'Seen from above';
  if (view.elevation < -steep) return 'Seen from below';
  const eighth = Math.round((view.azimuth * 4) / Math.PI);
  const side = around[(eighth + 8) % 8]!;
  const from = side.includes(' ')
    ? side
    : side === 'front' || side === 'back'
      ? `the ${side}`
      : `the ${side}`;
  if (Math.abs(view.elevation) < slanting) return `Seen from ${from}`;
  const much = Math.abs(view.elevation) > Math.PI / 4 ? 'far' : 'a little';
  return `Seen from ${from}, ${much} ${view.elevation > 0 ? 'above' : 'below'}`;
}

/** What is shown: a ball round all of it. */
export interface Ball {
  readonly middle: Point3;
  readonly radius: number;
}

/** The ball round the middle of the bounds of places given as x, y, z one after another. */
export function ballOf(places: Float64Array): Ball {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < places.length; i++) {
    const k = i % 3;
    low[k] = Math.min(low[k]!, places[i]!);
    high[k] = Math.max(high[k]!, places[i]!);
  }
  if (places.length === 0) return { middle: { x: 0, y: 0, z: 0 }, radius: 1 };
  const [x, y, z] = [0, 1, 2].map((k) => (low[k]! + high[k]!) / 2) as [number, number, number];
  let radius = 1;
  for (let i = 0; i < places.length; i += 3)
    radius = Math.max(radius, Math.hypot(places[i]! - x, places[i + 1]! - y, places[i + 2]! - z));
  return { middle: { x, y, z }, radius };
}

/** So much of the shell, mm, is seen round a place that is shown, at least. */
const roundPlace = 60;
const nearestLook = 4;

/** From straight outside of a place between two vertices, with it in the middle; null where the shell has no such vertices. */
export function viewOf(
  shell: Surface,
  place: { readonly vertices: readonly [number, number]; readonly part: number },
): View | null {
  const [a, b] = place.vertices;
  const [p, q] = [shell.vertices[a], shell.vertices[b]];
  if (!p || !q) return null;
  const normals = faceNormals(shell);
  const has = (f: number, v: number) => shell.faces[f]!.vertices.includes(v);
  const along = normals.filter((_, f) => has(f, a) && has(f, b));
  const out = unitOf3(along.reduce(add3, point3(0, 0, 0)));
  if (norm3(out) === 0) return null;
  const ball = ballOf(
    Float64Array.from(
      shell.faces.flatMap(({ vertices }) =>
        vertices.flatMap((v) => {
          const { x, y, z } = shell.vertices[v]!;
          return [x, y, z];
        }),
      ),
    ),
  );
  const look = {
    azimuth: Math.atan2(out.x, out.y),
    elevation: Math.asin(clamp(out.z, -1, 1)),
  };
  const { right, up } = viewAxes(look);
  const off = scaleBy3(
    subtract3(add3(p, scaleBy3(subtract3(q, p), place.part)), ball.middle),
    1 / ball.radius,
  );
  return {
    ...look,
    zoom: clamp(ball.radius / roundPlace, 1, nearestLook),
    panX: clamp(dot3(off, right), -widestPan, widestPan),
    panY: clamp(dot3(off, up), -widestPan, widestPan),
  };
}

/** A view made ready for a picture of some size. */
export interface Sight {
  readonly axes: ViewAxes;
  /** What lies in the middle of the picture. */
  readonly target: Point3;
  /** Pixels per mm. */
  readonly scale: number;
  readonly width: number;
  readonly height: number;
  readonly radius: number;
}

export function sightOf(view: View, ball: Ball, width: number, height: number): Sight {
  const axes = viewAxes(view);
  const scale = (view.zoom * fill * Math.max(1, Math.min(width, height))) / (2 * ball.radius);
  const target = add3(
    add3(ball.middle, scaleBy3(axes.right, view.panX * ball.radius)),
    scaleBy3(axes.up, view.panY * ball.radius),
  );
  return { axes, target, scale, width, height, radius: ball.radius };
}

export interface OnScreen {
  /** Pixels from the upper left. */
  readonly x: number;
  readonly y: number;
  /** mm towards the viewer. */
  readonly near: number;
}

export function toScreen(sight: Sight, p: Point3): OnScreen {
  const d = subtract3(p, sight.target);
  return {
    x: sight.width / 2 + sight.scale * dot3(d, sight.axes.right),
    y: sight.height / 2 - sight.scale * dot3(d, sight.axes.up),
    near: dot3(d, sight.axes.towards),
  };
}

/**
 * The sight whose pixels are the mm of the picture that `pictureOf` draws of a shell, from its upper left corner, y
 * down: what is picked there is what lies there on the drawing.
 */
export function pictureSight(
  { vertices, faces }: Pick<Shell, 'vertices' | 'faces'>,
  { width, height }: Pick<ShellPicture, 'width' | 'height'>,
  direction: ViewDirection,
): Sight {
  const axes = viewAxes(direction);
  let [x, y] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const face of faces)
    for (const v of face.vertices) {
      x = Math.min(x, dot3(vertices[v]!, axes.right));
      y = Math.min(y, dot3(vertices[v]!, axes.up));
    }
  const target = add3(scaleBy3(axes.right, x + width / 2), scaleBy3(axes.up, y + height / 2));
  return { axes, target, scale: 1, width, height, radius: Math.hypot(width, height) / 2 };
}
