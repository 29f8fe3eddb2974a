// The words of a drawing, set so that none runs out of the picture or lies on another: shifted, broken into lines,
// moved up or down, and the picture made taller where that is what it takes.

import { broken, meet, widthOf, type Box } from "./measure";
import type { Label } from "./types";

/** A label as it stands: its lines, the foot of the first, and where they are held. */
export interface Lettered {
  x: number;
  y: number;
  anchor: "start" | "middle" | "end";
  lines: string[];
  role: Label["role"];
  box: Box;
}

export interface Lettering {
  words: Lettered[];
  /** How far words stand above and below the picture. */
  above: number;
  below: number;
}

export const leading = 1.2; // of the letters' height, from line to line

/**
 * Sets labels in a picture so wide and high; x and y say where a label is wanted. A label for which there is no room
 * anywhere near is left out, the later ones first.
 */
export function letter(labels: Label[], x: (l: Label) => number, y: (l: Label) => number, size: number, width: number, height: number, grow = true): Lettering {
  const words: Lettered[] = [];
  const step = size * leading;
  for (const label of labels) {
    const anchor = label.anchor === "end" || label.anchor === "middle" ? label.anchor : "start";
    const whole = widthOf(label.text, size);
    if (!label.text) continue;
    let best: Lettered | null = null, least = Infinity;
    for (const parts of [1, 2, 3]) {
      const lines = parts === 1 && whole <= width - 4 ? [label.text] : broken(label.text, size, Math.min(width - 4, (whole / parts) * 1.2));
      const wide = Math.max(...lines.map((l) => widthOf(l, size)));
      const from = x(label) - (anchor === "start" ? 0 : anchor === "end" ? wide : wide / 2);
      const left = Math.max(2, Math.min(width - 2 - wide, from));
      for (const rows of [0, -1, 1, -2, 2, -3, 3, -4, 4]) {
        const first = y(label) + rows * step - (lines.length - 1) * step * (rows <= 0 ? 1 : 0);
        let box = { left: left - 3, right: left + wide + 3, top: first - size * 0.85, bottom: first + (lines.length - 1) * step + size * 0.3 };
        // One that sticks out over the upper or lower edge by less than a line is moved in; by more, the picture grows.
        const out = box.top < 0 ? -box.top : box.bottom > height ? height - box.bottom : 0;
        const nudge = Math.abs(out) < step || !grow ? out : 0;
        box = { ...box, top: box.top + nudge, bottom: box.bottom + nudge };
        const beyond = Math.max(0, -box.top, box.bottom - height);
        const cost = Math.abs(left - from) / size / 4 + Math.abs(rows) + Math.abs(nudge) / step / 2 + 0.7 * (lines.length - 1) + (beyond / step) * 0.3;
        if (cost >= least || words.some((w) => meet(w.box, box))) continue;
        const at = anchor === "start" ? left : anchor === "end" ? left + wide : left + wide / 2;
        best = { x: at, y: first + nudge, anchor, lines, role: label.role, box };
        least = cost;
      }
    }
    if (best) words.push(best);
  }
  return {
    words,
    above: Math.max(0, ...words.map((w) => -w.box.top)),
    below: Math.max(0, ...words.map((w) => w.box.bottom - height)),
  };
}
