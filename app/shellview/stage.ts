/**
 * The only file that draws with the 3D library. It knows faces, lines and one camera, and nothing of shells: the
 * picture is told what to show and draws once per frame at most, when something changed. Everything that it makes it
 * also takes back.
 */
import {
  BackSide,
  BufferAttribute,
  BufferGeometry,
  ColorManagement,
  DoubleSide,
  FrontSide,
  LinearSRGBColorSpace,
  Mesh,
  MeshBasicMaterial,
  OrthographicCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';
import type { Sight } from './orbit';
import type { Rgb } from './theme';

interface MeshLook {
  readonly opacity: number;
  /** Only the sides turned to the viewer, or only those turned away; both when absent. */
  readonly side?: 'out' | 'in';
  /** Drawn over the faces that it lies on. */
  readonly above?: boolean;
}

interface LineLook {
  /** CSS pixels. */
  readonly width: number;
  readonly colour: Rgb;
  /** Seen through faces as well. */
  readonly through?: boolean;
}

export interface Stage {
  /** CSS pixels, and device pixels per CSS pixel. */
  resize(width: number, height: number, ratio: number): void;
  /** Triangles, nine numbers each, with a colour per corner. An empty list takes the layer away. */
  mesh(layer: string, places: Float32Array, colours: Float32Array, look: MeshLook): void;
  /** Straight lines, six numbers each. An empty list takes the layer away. */
  lines(layer: string, places: readonly number[], look: LineLook): void;
  look(sight: Sight): void;
  /** A picture at the next frame. */
  request(): void;
  dispose(): void;
}

/**
 * Puts a canvas into an element, behind what is there.
 * @param lost called when the browser takes the drawing context away for good
 * @returns null where the browser has no WebGL
 */
export function createStage(place: HTMLElement, lost: () => void): Stage | null {
  // CSS colours are shown as they are written.
  ColorManagement.enabled = false;
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('webgl2', { antialias: true, alpha: true });
  if (!context) return null;
  let renderer: WebGLRenderer;
  try {
    renderer = new WebGLRenderer({ canvas, context, antialias: true, alpha: true });
  } catch {
    return null;
  }
  renderer.outputColorSpace = LinearSRGBColorSpace;
  renderer.setClearColor(0x000000, 0);
  place.prepend(canvas);
  const scene = new Scene();
  const camera = new OrthographicCamera();
  const meshes = new Map<string, Mesh<BufferGeometry, MeshBasicMaterial>>();
  const lines = new Map<string, LineSegments2>();
  let frame = 0;
  let gone = false;
  const onLost = (event: Event) => {
    event.preventDefault();
    if (!gone) lost();
  };
  canvas.addEventListener('webglcontextlost', onLost);

  const drop = (thing: Mesh<BufferGeometry, MeshBasicMaterial> | LineSegments2 | undefined) => {
    if (!thing) return;
    scene.remove(thing);
    thing.geometry.dispose();
    thing.material.dispose();
  };

  return {
    resize(width, height, ratio) {
      renderer.setPixelRatio(ratio);
      renderer.setSize(Math.max(1, width), Math.max(1, height), false);
      if (!gone) renderer.render(scene, camera);
    },
    mesh(layer, places, colours, { opacity, side, above = false }) {
      drop(meshes.get(layer));
      meshes.delete(layer);
      if (places.length === 0) return;
      const geometry = new BufferGeometry();
      geometry.setAttribute('position', new BufferAttribute(places, 3));
      geometry.setAttribute('color', new BufferAttribute(colours, 3));
      const material = new MeshBasicMaterial({
        vertexColors: true,
        side: side === 'out' ? FrontSide : side === 'in' ? BackSide : DoubleSide,
        transparent: opacity < 1,
        opacity,
        // See-through faces must not hide what is inside them.
        depthWrite: opacity === 1,
        polygonOffset: true,
        polygonOffsetFactor: above ? 1 : 2,
        polygonOffsetUnits: above ? 1 : 2,
      });
      const mesh = new Mesh(geometry, material);
      mesh.frustumCulled = false;
      mesh.renderOrder = opacity < 1 ? 2 : above ? 1 : 0;
      meshes.set(layer, mesh);
      scene.add(mesh);
    },
    lines(layer, places, { width, colour, through = false }) {
      drop(lines.get(layer));
      lines.delete(layer);
      if (places.length === 0) return;
      const geometry = new LineSegmentsGeometry();
      geometry.setPositions(new Float32Array(places));
      const material = new LineMaterial({ linewidth: width, depthTest: !through });
      material.color.setRGB(...colour);
      const segments = new LineSegments2(geometry, material);
      segments.frustumCulled = false;
      segments.renderOrder = through ? 4 : 3;
      lines.set(layer, segments);
      scene.add(segments);
    },
    look({ axes, target, scale, width, height, radius }) {
      const half = { x: width / 2 / scale, y: height / 2 / scale };
      camera.left = -half.x;
      camera.right = half.x;
      camera.top = half.y;
      camera.bottom = -half.y;
      // Deep enough for whatever has been moved off the middle.
      const deep = 8 * radius;
      camera.near = 0;
      camera.far = 2 * deep;
      const { towards: t, up } = axes;
      camera.position.set(target.x + t.x * deep, target.y + t.y * deep, target.z + t.z * deep);
      camera.up.set(up.x, up.y, up.z);
      camera.lookAt(new Vector3(target.x, target.y, target.z));
      camera.updateProjectionMatrix();
    },
    request() {
      if (frame !== 0 || gone) return;
      frame = requestAnimationFrame(() => {
        frame = 0;
        if (!gone) renderer.render(scene, camera);
      });
    },
    dispose() {
      gone = true;
      cancelAnimationFrame(frame);
      canvas.removeEventListener('webglcontextlost', onLost);
      for (const thing of [...meshes.values(), ...lines.values()]) drop(thing);
      renderer.dispose();
      // Browsers keep few drawing contexts: this one is given back at once.
      renderer.forceContextLoss();
      canvas.remove();
    },
  };
}
