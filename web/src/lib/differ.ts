// Where two lines of text, or two answers, differ.

import type { Answer, Margin, Moved, Verdict } from "./types";

/** The same beginning, what differs, the same end; what differs is grown to whole words and numbers. */
export function apart(line: string, other: string, within = /[\w.+\-°]/): [string, string, string] {
  const [a, b] = [[...line], [...other]];
  let from = 0;
  while (from < a.length && from < b.length && a[from] === b[from]) from++;
  let to = 0;
  while (to < a.length - from && to < b.length - from && a[a.length - 1 - to] === b[b.length - 1 - to]) to++;
  if (from === a.length && from === b.length) return [line, "", ""];
  while (from > 0 && within.test(a[from - 1] ?? "")) from--;
  while (to > 0 && within.test(a[a.length - to] ?? "")) to--;
  return [a.slice(0, from).join(""), a.slice(from, a.length - to).join(""), a.slice(a.length - to).join("")];
}

/** The whole value around what differs, as commas and brackets set it off. */
export function value(line: string, other: string): string {
  const [, middle] = apart(line.replace(/\s#.*$/, ""), other.replace(/\s#.*$/, ""), /[^,:{}[\]]/);
  return middle.trim() || line.trim();
}

/** How far the margin has moved, as the server words it; nothing where it has not, or where its verdict alone says it. */
export function by(change: Moved | undefined, verdict: Verdict | undefined): string {
  return !change || change.shown === "0" || change.shown === verdict ? "" : change.shown;
}

/** Whether an answer reads otherwise than before: its verdict, or its margin as it is written. */
export function moved(now: Answer | undefined, was: { verdict: Verdict; margin?: Margin | undefined } | null | undefined): boolean {
  return now !== undefined && !!was && (now.verdict !== was.verdict || now.margin?.shown !== was.margin?.shown);
}
