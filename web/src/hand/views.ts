// Which way the boat's frame lies on the paper of each view.

import type { Drawing, Path } from "../lib/types";
import type { Handle, Place, Views } from "./types";

export type Which = "profile" | "plan" | "body";

export const whole: Which[] = ["profile", "plan", "body"];

/** The coordinates that run across and up the paper, and the sense of the first. */
function axes(which: Which, h: Handle): [number, number, 1 | -1] {
  if (which === "profile") return [0, 2, 1];
  if (which === "plan") return [0, 1, 1];
  return [1, 2, h.kind === "reading" && h.aft ? -1 : 1];
}

/** Whether a handle stands on the paper of a view, and can be pulled there. */
export function stands(which: Which, h: Handle, paper: Drawing): boolean {
  const [across, up] = axes(which, h);
  if (h.end && which !== "profile") return false;
  const [x, y] = onPaper(which, h, placeOf(h));
  if (x < paper.min_x || x > paper.max_x || y < paper.min_y || y > paper.max_y) return false;
  return h.free[across] === true || h.free[up] === true;
}

/** Where a place stands on the paper, metres. */
export function onPaper(which: Which, h: Handle, at: Place): [number, number] {
  const [across, up, sense] = axes(which, h);
  return [sense * (at[across] ?? 0), at[up] ?? 0];
}

/** A place moved by so much across and up the paper, as far as the handle is free. */
export function moved(which: Which, h: Handle, at: Place, right: number, higher: number): Place {
  const [across, up, sense] = axes(which, h);
  const to: Place = [...at];
  if (h.free[across]) to[across] = (to[across] ?? 0) + sense * right;
  if (h.free[up]) to[up] = (to[up] ?? 0) + higher;
  return to;
}

export const placeOf = (h: Handle): Place => [h.x, h.y, h.z];

/** The handle that the eye goes to next in a direction of the paper; -1 for none. */
export function next(all: Handle[], which: Which, from: Handle, right: number, higher: number): Handle | undefined {
  const here = onPaper(which, from, placeOf(from));
  let best: Handle | undefined;
  let least = Infinity;
  for (const h of all) {
    if (h.id === from.id) continue;
    const there = onPaper(which, h, placeOf(h));
    const [dx, dy] = [there[0] - here[0], there[1] - here[1]];
    const along = dx * right + dy * higher;
    const aside = Math.abs(dx * higher - dy * right);
    if (along <= 1e-9 || aside > 2 * along) continue;
    const far = along + 2.5 * aside;
    if (far < least) [best, least] = [h, far];
  }
  return best;
}

/** The paths of a drawing that a pull has made other ones, as they were. */
export function ghosts(before: Views | undefined, now: Views | undefined, which: Which): Path[] {
  if (!before || !now || before === now) return [];
  const is = new Map((now[which].paths ?? []).map((p) => [p.role + p.name, p]));
  return (before[which].paths ?? []).filter((p) => p.role !== "grid" && p.role !== "thing" && !alike(p, is.get(p.role + p.name)));
}

function alike(a: Path, b: Path | undefined): boolean {
  const [one, other] = [a.points ?? [], b?.points ?? []];
  return one.length === other.length && one.every((p, i) => p[0] === other[i]?.[0] && p[1] === other[i]?.[1]);
}
