// How much of a part's points fits on a screen that is read from two metres.

import type { PointShown } from "./types";

/**
 * The least size of digits, in points of the screen. Read from two metres a
 * digit stands at least 9.3 mm high (16 minutes of arc, ISO 9241-303); at 96
 * points it does so on a tablet, where 96 of them are about 17 mm.
 */
export const least = 96;
const lead = 1.14; // of a row, to the size of its digits
const grow = 4;
const heads = 36; // height of the columns' heads
const named = 96; // height of the name over one that stands alone
const large = 60; // of names in rows, at the most
const fill = 0.96; // of their column that names may take
const gap = 34; // between two columns
const single = 1.32; // height of one number alone with its label, to its digits

/** How points are set: in rows, or one alone with its numbers large. */
export interface Setting {
  rows: number; // 0: one alone
  across: number; // of one alone: how many of its numbers stand side by side
  size: number; // of the digits
  name: number; // of a row's name
  columns: number[]; // widths of a row's columns, the names first
}

let pen: CanvasRenderingContext2D | null = null;

/** How wide words are at a size of 1, in the digits' own face. */
function wide(text: string, family: string): number {
  pen ??= document.createElement("canvas").getContext("2d");
  if (!pen) return text.length * 0.62;
  pen.font = `600 100px ${family}`;
  const [whole = "", part = ""] = split(text);
  return (pen.measureText(whole).width + pen.measureText(part).width * small) / 100;
}

/** Behind the point digits are set smaller, so that millimetres stand out. */
export const small = 0.5;

/** A number before and from its point. */
export function split(text: string): [string, string] {
  const at = text.indexOf(".");
  return at < 0 ? [text, ""] : [text.slice(0, at), text.slice(at)];
}

const widest = (texts: string[], family: string) => Math.max(0, ...texts.map((t) => wide(t, family)));

const longestWord = (points: PointShown[]) => points.flatMap((p) => p.name.split(" "));

/** Finds the largest digits at which as many points as can be read fit. */
export function set(points: PointShown[], room: number, tall: number, family: string, alone: boolean): Setting {
  const columns = [points.map((p) => p.across), points.map((p) => p.up), points.map((p) => p.bevel)].map((c) => widest(c, family));
  const word = Math.max(widest(longestWord(points), family), 0.1);
  const filled = columns.filter((c) => c > 0);
  const digits = (size: number) => gap * filled.length + size * filled.reduce((a, b) => a + b, 0);
  // The names' column has room for large ones, or else what the digits leave.
  const column = Math.min(260, Math.max(110, Math.min((word * large) / fill, room - digits(least))));
  const name = Math.max(26, Math.min(large, (column / word) * fill));
  const fits = (size: number) => column + digits(size) <= room;
  const rows = (size: number) => Math.floor((tall - heads) / (size * lead));
  if (!alone && fits(least) && rows(least) >= 2) {
    const want = Math.min(points.length, rows(least));
    let size = least;
    while (fits(size + grow) && rows(size + grow) >= want) size += grow;
    const spare = (room - column - digits(size)) / filled.length;
    return { rows: want, across: 1, size, name, columns: [column, ...filled.map((c) => c * size + spare)] };
  }
  // Below each other, or the two lengths side by side: whichever is larger.
  const lines = columns[2] ? 3 : 2;
  const below = Math.min((room * 0.94) / Math.max(...columns, 0.1), (tall - named) / lines / single);
  const beside = Math.min((room - gap) / (2 * Math.max(...columns, 0.1)), (tall - named) / (lines - 1) / single);
  return { rows: 0, across: beside > below ? 2 : 1, size: Math.max(24, Math.floor(Math.max(below, beside))), name, columns: [] };
}
