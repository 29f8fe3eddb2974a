// Turns surfaces into a picture: paper-coloured faces with the cuts inked on
// them, standing in the plane of the sea. Only this file knows three.

import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  DoubleSide,
  Group,
  Line,
  LineBasicMaterial,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  PerspectiveCamera,
  Quaternion,
  RingGeometry,
  Scene,
  Vector3,
  WebGLRenderer,
} from "three";
import type { Solid, Surface } from "./types";

export interface Model {
  /** Shows a solid in the page's colours, or at once in ink for the printer. */
  show(solid: Solid, printing?: boolean): void;
  turn(across: number, up: number): void;
  face(turn: number, rise: number): void;
  near(by: number): void;
  end(): void;
}

/** Begins a picture on a canvas; throws where the browser cannot make one. */
export function makeModel(canvas: HTMLCanvasElement): Model {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true });
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  const scene = new Scene();
  const camera = new PerspectiveCamera(28, 2, 0.05, 200);
  const sun = new DirectionalLight(0xffffff, 1.5);
  scene.add(new AmbientLight(0xffffff, 1.7), sun);
  let body = new Group();
  scene.add(body);

  let turn = 2.5, rise = 0.3, back = 1, reach = 4;
  let asked = 0;

  const draw = (now = false) => {
    cancelAnimationFrame(asked);
    if (now) paint();
    else asked = requestAnimationFrame(paint);
  };
  const paint = () => {
    const box = canvas.parentElement?.getBoundingClientRect();
    const width = box?.width ?? 600, height = box?.height ?? 300;
    renderer.setSize(width, height, false);
    camera.aspect = width / height;
    // Far enough for the whole of it, whichever side of the frame is the tighter.
    const half = Math.tan((camera.fov * Math.PI) / 360) * Math.min(1, camera.aspect / 1.55);
    const away = (back * reach * 0.6) / half;
    camera.position.set(Math.cos(turn) * Math.cos(rise), Math.sin(rise), Math.sin(turn) * Math.cos(rise)).multiplyScalar(away);
    camera.lookAt(0, 0, 0);
    sun.position.copy(camera.position).add(new Vector3(away * 0.5, away * 0.8, 0));
    camera.updateProjectionMatrix();
    renderer.render(scene, camera);
  };
  const watch = new ResizeObserver(() => draw());
  if (canvas.parentElement) watch.observe(canvas.parentElement);

  return {
    show(solid, printing = false) {
      scene.remove(body);
      dispose(body);
      const made = build(solid, printing ? ink : page);
      body = made.group;
      reach = made.reach;
      scene.add(body);
      draw(printing);
    },
    turn(across, up) {
      turn -= across;
      rise = Math.max(-1.5, Math.min(1.5, rise + up));
      draw();
    },
    face(to, up) {
      turn = to;
      rise = up;
      back = 1;
      draw();
    },
    near(by) {
      back = Math.max(0.35, Math.min(2.2, back * by));
      draw();
    },
    end() {
      cancelAnimationFrame(asked);
      watch.disconnect();
      dispose(body);
      renderer.dispose();
    },
  };
}

/** Where the colours come from, by the name of the page's variable. */
type Colours = (name: string) => Color;

const page: Colours = (name) => new Color(getComputedStyle(document.documentElement).getPropertyValue(name).trim());

const ink: Colours = (name) =>
  new Color({ "--ink": "#000", "--short": "#000", "--sea-line": "#777", "--wood": "#eee" }[name] ?? "#fff");

/** The surfaces and the sea, turned so that the sky is up and the middle is the origin. */
function build(solid: Solid, css: Colours): { group: Group; reach: number } {
  const up = new Vector3(...solid.up).normalize();
  const upright = new Quaternion().setFromUnitVectors(up, new Vector3(0, 1, 0));
  const points: Vector3[] = [];
  const turned = new Group();
  const face = new MeshLambertMaterial({ color: css("--wood"), side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1.5, polygonOffsetUnits: 2 });
  const deck = new MeshLambertMaterial({ color: css("--paper-lit"), side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1.5, polygonOffsetUnits: 2 });
  const black = new LineBasicMaterial({ color: css("--ink") });
  const thin = new LineBasicMaterial({ color: css("--ink"), transparent: true, opacity: 0.38 });
  const limit = new LineBasicMaterial({ color: css("--short") });

  for (const surface of solid.surfaces ?? []) {
    const rows = rowsOf(surface, upright);
    for (const row of rows) points.push(...row);
    if (rows.length > 1) turned.add(new Mesh(grid(rows), surface.role === "main" || surface.role === "skin" ? face : deck));
    for (const [i, row] of rows.entries()) turned.add(line(row, surface.role === "limit" ? limit : i === 0 || i === rows.length - 1 ? black : thin));
    const wide = rows[0]?.length ?? 0;
    for (const j of [0, wide - 1]) {
      turned.add(line(rows.flatMap((row) => row[j] ?? []), black));
    }
  }

  const low = new Vector3(Infinity, Infinity, Infinity), high = low.clone().negate();
  for (const p of points) {
    low.min(p);
    high.max(p);
  }
  if (points.length === 0) {
    low.set(-1, -1, -1);
    high.set(1, 1, 1);
  }
  const middle = low.clone().add(high).multiplyScalar(0.5);
  const reach = low.distanceTo(high) / 2;
  turned.position.copy(middle).negate();

  const group = new Group();
  group.add(turned);
  const water = new Mesh(wash(reach * 1.45, css), new MeshBasicMaterial({ vertexColors: true, transparent: true, side: DoubleSide, depthWrite: false }));
  water.rotation.x = -Math.PI / 2;
  water.position.y = solid.level - middle.y;
  group.add(water);
  return { group, reach };
}

/** A round of sea that fades towards its edge like a wash of colour. */
function wash(radius: number, css: Colours): BufferGeometry {
  const sea = css("--sea-line");
  const round = new RingGeometry(0.001, radius, 96, 12);
  const at = round.getAttribute("position");
  const tint = new Float32Array(at.count * 4);
  for (let i = 0; i < at.count; i++) {
    const out = Math.hypot(at.getX(i), at.getY(i)) / radius;
    const fade = Math.max(0, Math.min(1, (1 - out) / 0.5));
    sea.toArray(tint, i * 4);
    tint[i * 4 + 3] = 0.3 * fade * fade * (3 - 2 * fade);
  }
  round.setAttribute("color", new BufferAttribute(tint, 4));
  return round;
}

function rowsOf(surface: Surface, upright: Quaternion): Vector3[][] {
  return (surface.rows ?? []).map((row) => (row ?? []).map((p) => new Vector3(...p).applyQuaternion(upright)));
}

/** Neighbouring rows span quadrilaterals, each shown as two triangles. */
function grid(rows: Vector3[][]): BufferGeometry {
  const wide = Math.min(...rows.map((row) => row.length));
  const at = new Float32Array(rows.length * wide * 3);
  const corners: number[] = [];
  for (const [i, row] of rows.entries()) {
    for (let j = 0; j < wide; j++) {
      row[j]?.toArray(at, (i * wide + j) * 3);
      if (i + 1 < rows.length && j + 1 < wide) {
        const a = i * wide + j, b = a + wide;
        corners.push(a, b, a + 1, b, b + 1, a + 1);
      }
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(at, 3));
  geometry.setIndex(corners);
  geometry.computeVertexNormals();
  return geometry;
}

function line(points: Vector3[], material: LineBasicMaterial): Line {
  return new Line(new BufferGeometry().setFromPoints(points), material);
}

function dispose(group: Group) {
  group.traverse((one) => {
    if (one instanceof Mesh || one instanceof Line) {
      (one.geometry as BufferGeometry).dispose();
      const material = one.material as MeshBasicMaterial | LineBasicMaterial;
      material.dispose();
    }
  });
}
