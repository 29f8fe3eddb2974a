// A map on the screen: its places are projected already and are only scaled, moved and kept apart here.

import { meet, widthOf, type Box } from "./measure";
import type { Box as Cell, Label, Map as Chartlet, MapOn, Path, Role, Track } from "./types";

/** From the map's places to points of its frame when the whole of it is shown. */
export interface Fit {
  k: number;
  x: (v: number) => number;
  y: (v: number) => number;
}

export function fitted(map: Chartlet, width: number): Fit {
  const k = width / Math.max(map.max_x - map.min_x, 1e-12);
  return { k, x: (v) => (v - map.min_x) * k, y: (v) => (map.max_y - v) * k };
}

const point = (fit: Fit, p: [number, number]) => fit.x(p[0]).toFixed(2) + " " + fit.y(p[1]).toFixed(2);

export function lineOf(points: [number, number][] | null | undefined, fit: Fit, closed = false): string {
  const words = (points ?? []).map((p, i) => (i ? "L" : "M") + point(fit, p)).join("");
  return words && closed ? words + "Z" : words;
}

export const landOf = (map: Chartlet, fit: Fit) => (map.land ?? []).map((ring) => lineOf(ring, fit, true)).join("");

/** The step that a share belongs to. */
export function stepOf(map: Chartlet, share: number): number {
  let at = 0;
  for (const [i, s] of (map.steps ?? []).entries()) if (share >= s.from) at = i;
  return at;
}

/** One path for the boxes of each step; boxes beside each other in a row are drawn as one, so that no seams are seen. */
export function tonesOf(map: Chartlet, boxes: Cell[] | null | undefined, fit: Fit): string[] {
  const steps = Math.max(map.steps?.length ?? 0, 1);
  const out = Array.from({ length: steps }, () => "");
  const all = (boxes ?? []).map((b) => ({ ...b, step: stepOf(map, b.share) })).sort((a, b) => a.j - b.j || a.i - b.i);
  for (let n = 0; n < all.length; n++) {
    const first = all[n];
    if (!first) break;
    let last = first;
    for (let next = all[n + 1]; next && next.j === last.j && next.i === last.i + 1 && next.step === last.step; next = all[++n + 1]) last = next;
    const [x0, x1, y0, y1] = [map.x?.[first.i], map.x?.[last.i + 1], map.y?.[first.j], map.y?.[first.j + 1]];
    if (x0 === undefined || x1 === undefined || y0 === undefined || y1 === undefined) continue;
    out[first.step] += `M${point(fit, [x0, y1])}H${fit.x(x1).toFixed(2)}V${fit.y(y0).toFixed(2)}H${fit.x(x0).toFixed(2)}Z`;
  }
  return out;
}

/** A step's wash of ink. */
export const washOf = (step: number, of: number) => 0.08 + (0.5 * step) / Math.max(of - 1, 1);

/** The boxes of a day, or of the last day before it that has some. */
export function onDay(map: Chartlet, day: number): MapOn | undefined {
  return (map.days ?? []).findLast((d) => d.day <= day);
}

/** Where a track's boat is on a day; nothing before it leaves. */
export function boatOf(track: Track, day: number): { at: [number, number]; ended: boolean } | null {
  const points = track.points ?? [];
  const i = day - track.first;
  const at = points[Math.min(i, points.length - 1)];
  return i < 0 || !at ? null : { at, ended: i >= points.length - 1 };
}

/** Curves of the thin role are told apart by their strokes, in the order of their names. */
const dashes = ["none", "1.5 3", "9 3 1.5 3", "4 3", "12 3"];

/** How a track is drawn: a limit on a map is a line that must not be passed, and a boat that came to grief is none. */
const sailed = (t: Track): Track => (t.role === "limit" ? { ...t, role: "other" } : t);

export const tracksOf = (map: Chartlet) => (map.tracks ?? []).map(sailed);

/** Every line and track with its look; those of one name have one. */
export function looksOf(map: Chartlet): (role: Role, name: string) => string | undefined {
  const turn = new Map<string, number>();
  for (const l of [...(map.lines ?? []), ...tracksOf(map)]) {
    if (l.role === "other" && !turn.has(l.name ?? "")) turn.set(l.name ?? "", turn.size);
  }
  return (role, name) => (role === "other" ? dashes[(turn.get(name) ?? 0) % dashes.length] : undefined);
}

/** What the legend names: lines and tracks, each name once. */
export function keyed(map: Chartlet): { role: Role; name: string }[] {
  const seen = new Set([""]);
  return [...(map.lines ?? []), ...tracksOf(map)].flatMap(({ role, name = "" }) => {
    if (role === "grid" || seen.has(name)) return [];
    seen.add(name);
    return [{ role, name }];
  });
}

/** Whether a line is a meridian or a parallel that has a name. */
export function gridline(l: Path): "meridian" | "parallel" | null {
  const [a, b] = [l.points?.[0], l.points?.at(-1)];
  if (l.role !== "grid" || !l.name || !a || !b || l.points?.length === 1) return null;
  return Math.abs(b[0] - a[0]) < Math.abs(b[1] - a[1]) ? "meridian" : "parallel";
}

/** A place to be named, in points of the frame. */
export interface Named {
  x: number;
  y: number;
  text: string;
  anchor: string;
  role: Role;
  /** Words alone, about their place; else beside a spot. */
  bare?: boolean;
}

/** Words as they stand. */
export interface Lettered {
  x: number;
  y: number;
  text: string;
  anchor: "start" | "middle" | "end";
  role: Role;
  bare: boolean;
}

export const spotted = (label: Label) => !["grid", "water", "sea", "pointer"].includes(label.role);

/**
 * Names set beside their spots, within the frame and apart from each other; where there is no room the later ones are
 * left out. Other spots are kept clear where that can be, and the names that matter most may lie on them.
 */
export function named(all: Named[], width: number, height: number, size: number): Lettered[] {
  const within = (p: { x: number; y: number }) => p.x >= 0 && p.x <= width && p.y >= 0 && p.y <= height;
  const spots: Box[] = all.flatMap((p) => (p.bare || !within(p) ? [] : [{ left: p.x - 4, right: p.x + 4, top: p.y - 4, bottom: p.y + 4 }]));
  const taken: Box[] = [];
  return all.flatMap((p) => {
    if (!p.text || !within(p)) return [];
    const wide = widthOf(p.text, size) + 1;
    const ways = p.bare ? about : p.anchor === "end" ? [...left, ...over, ...right] : p.anchor === "middle" ? [...over, ...right, ...left] : [...right, ...over, ...left];
    for (const clear of p.role === "main" ? [spots, []] : [spots]) {
      for (const { anchor, dx, dy } of ways) {
        const x = p.x + dx, y = p.y + dy + size * 0.35;
        const from = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
        const box = { left: from - 1, right: from + wide + 1, top: y - size * 0.85, bottom: y + size * 0.28 };
        if (box.left < 1 || box.right > width - 1 || box.top < 0 || box.bottom > height || [...taken, ...clear].some((t) => meet(t, box))) continue;
        taken.push(box);
        return [{ x, y, text: p.text, anchor, role: p.role, bare: p.bare ?? false }];
      }
    }
    return [];
  });
}

type Beside = { anchor: "start" | "middle" | "end"; dx: number; dy: number };
const right: Beside[] = [0, -9, 9].map((dy) => ({ anchor: "start", dx: dy ? 6 : 8, dy }));
const left: Beside[] = [0, -9, 9].map((dy) => ({ anchor: "end", dx: dy ? -6 : -8, dy }));
const over: Beside[] = [-13, 13].map((dy) => ({ anchor: "middle", dx: 0, dy }));
const about: Beside[] = [0, 15, -15].map((dy) => ({ anchor: "middle", dx: 0, dy }));

/** A round number of sea miles that takes at most a quarter of the frame, and its length in points. */
export function scaleBar(mile: number, most: number): { miles: number; long: number } | null {
  if (!(mile > 0) || !(most > 0)) return null;
  const ten = Math.pow(10, Math.floor(Math.log10(most / mile)));
  const miles = ([5, 2, 1].find((n) => n * ten * mile <= most) ?? 1) * ten;
  return { miles, long: miles * mile };
}
