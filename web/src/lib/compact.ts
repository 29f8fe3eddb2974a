// Edits with every value that is set again set once, so that a point pulled two
// hundred times is one edit. The same rule as Go's boatfolder.Compact, which the
// server holds to: what nothing between the two can have touched or moved.

import type { Edit } from "./trytypes";

const within = (key: string, other: string) => key !== other && key.startsWith(other) && /^[.[]/.test(key.slice(other.length));

function setBefore(edits: Edit[], e: Edit): number {
  if (e.do) return -1;
  for (let i = edits.length - 1; i >= 0; i--) {
    const was = edits[i];
    if (!was || was.file !== e.file) continue;
    if (was.do) return -1;
    if (was.key === e.key) return (was.of ?? "") === (e.of ?? "") && was.text && (!e.was || e.was === was.text) ? i : -1;
    if (within(was.key, e.key) || within(e.key, was.key)) return -1;
  }
  return -1;
}

/** The later text takes the place of the earlier one, and keeps what stood there before both. */
export function compact(edits: Edit[]): Edit[] {
  const out: Edit[] = [];
  for (const e of edits) {
    const at = setBefore(out, e);
    const was = out[at];
    if (was) out[at] = { ...was, text: e.text ?? "" };
    else out.push(e);
  }
  return out;
}
