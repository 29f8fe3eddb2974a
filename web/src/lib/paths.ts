// From a drawing's metres, y up, to the picture's points, y down.

import type { Drawing, Label, Path } from "./types";

export interface Scale {
  k: number; // points to the metre
  width: number;
  height: number;
  x: (m: number) => number;
  y: (m: number) => number;
}

/** The largest scale at which the drawing fits. */
export function fit(d: Drawing, width: number, height: number): Scale {
  const wide = Math.max(d.max_x - d.min_x, 1e-9);
  const high = Math.max(d.max_y - d.min_y, 1e-9);
  const k = Math.min(width / wide, height / high);
  return {
    k,
    width: wide * k,
    height: high * k,
    x: (m) => (m - d.min_x) * k,
    y: (m) => (d.max_y - m) * k,
  };
}

/** A polyline as a path, its points to so many digits. */
export function outline(path: Path, scale: Scale, digits = 2): string {
  let words = "";
  for (const [i, [x, y]] of (path.points ?? []).entries()) {
    words += (i ? "L" : "M") + scale.x(x).toFixed(digits) + " " + scale.y(y).toFixed(digits);
  }
  return path.closed && words ? words + "Z" : words;
}

/**
 * The same drawing turned so that its water lies level, as it does to the eye,
 * and with what reaches the drawing's sides drawn far out beyond them.
 */
export function levelled(d: Drawing): Drawing {
  const line = (d.paths ?? []).find((p) => p.role === "water")?.points ?? [];
  const [first, last] = [line[0], line.at(-1)];
  const slope = first && last && last[0] !== first[0] ? (last[1] - first[1]) / (last[0] - first[0]) : 0;
  const turn = Math.atan(slope);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [mx, my] = [(d.min_x + d.max_x) / 2, first ? first[1] + slope * ((d.min_x + d.max_x) / 2 - first[0]) : 0];
  const far = 8 * (d.max_x - d.min_x), near = (d.max_x - d.min_x) * 1e-3;
  const turned = (x: number, y: number): [number, number] => [
    mx + (x - mx) * cos + (y - my) * sin,
    my + (y - my) * cos - (x - mx) * sin,
  ];
  const paths = (d.paths ?? []).map((p) => ({
    ...p,
    points: (p.points ?? []).map(([x, y]): [number, number] => {
      const out = p.role !== "sea" && p.role !== "water" ? 0 : x <= d.min_x + near ? -far : x >= d.max_x - near ? far : 0;
      return turned(x + out, y + out * slope);
    }),
  }));
  const labels = (d.labels ?? []).map((l) => {
    const [x, y] = turned(l.x, l.y);
    return { ...l, x, y };
  });
  return { ...d, paths, labels };
}

/** The labels that can stand without lying on each other or on what is there already; the first ones win. */
export function legible(labels: Label[], scale: Scale, size: number, there: [number, number, number, number][] = []): Label[] {
  const taken = [...there];
  return labels.filter((label) => {
    const wide = label.text.length * size * 0.56;
    const x = scale.x(label.x) - (label.anchor === "middle" ? wide / 2 : label.anchor === "end" ? wide : 0);
    const y = scale.y(label.y);
    const box: [number, number, number, number] = [x, y - size * 0.8, x + wide, y + size * 0.3];
    if (taken.some((t) => box[0] < t[2] + 4 && box[2] > t[0] - 4 && box[1] < t[3] && box[3] > t[1])) return false;
    taken.push(box);
    return true;
  });
}

/** How far a place of the picture is from a polyline. */
export function distance(path: Path, scale: Scale, x: number, y: number): number {
  let least = Infinity;
  const points = path.points ?? [];
  for (let i = path.closed ? -1 : 0; i + 1 < points.length; i++) {
    const a = points.at(i), b = points[i + 1];
    if (!a || !b) continue;
    const [ax, ay, bx, by] = [scale.x(a[0]), scale.y(a[1]), scale.x(b[0]), scale.y(b[1])];
    const long = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = long > 0 ? Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long)) : 0;
    least = Math.min(least, Math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y));
  }
  return least;
}
