// How wide words are set, so that they can be kept apart and within a picture.

let pen: CanvasRenderingContext2D | null | undefined;
const known = new Map<string, number>();

/** The width of a line of the plain face, in points; guessed where the browser does not tell. */
export function widthOf(text: string, size: number): number {
  const key = size + " " + text;
  const before = known.get(key);
  if (before !== undefined) return before;
  pen ??= document.createElement("canvas").getContext("2d");
  let wide = text.length * size * 0.58;
  if (pen) {
    pen.font = `${size}px ${getComputedStyle(document.documentElement).getPropertyValue("--plain") || "sans-serif"}`;
    wide = Math.max(pen.measureText(text).width, text.length * size * 0.4);
  }
  // Until the letters have come, others are measured: that is not kept.
  if (document.fonts.status === "loaded") {
    if (known.size > 2000) known.clear();
    known.set(key, wide);
  }
  return wide;
}

/** A text in lines of at most a width; a word that is longer stands by itself. */
export function broken(text: string, size: number, width: number): string[] {
  const out: string[] = [];
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const line = out.at(-1);
    if (line !== undefined && widthOf(`${line} ${word}`, size) <= width) out[out.length - 1] = `${line} ${word}`;
    else out.push(word);
  }
  return out;
}

/** An upright rectangle. */
export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export const meet = (a: Box, b: Box) => a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;
