// The name of a block in the address, from its heading: "Arms by heel and day,
// at the oars" is #arms-by-heel-and-day, whatever the day and the crew's place.

import type { Block, Sheet } from "../lib/types";

/** What a block is headed with; nothing for one that has no heading. */
export function headingOf(block: Block): string {
  const named = block.text ?? block.figures ?? block.table ?? block.chart ?? block.field ?? block.matrix ?? block.drawing ?? block.map ?? block.solid;
  return named?.heading ?? "";
}

function bare(heading: string): string {
  const words = heading.split(/[,:;(]/)[0] ?? "";
  return words
    .toLowerCase()
    .replace(/\bday \d+/g, "day")
    .normalize("NFD")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
}

/** A block's name among those of its sheet; a second one of the same name is numbered. */
export function slugOf(sheet: Sheet | null | undefined, block: Block): string {
  const own = bare(headingOf(block));
  if (!own) return "";
  let before = 0;
  for (const other of sheet?.blocks ?? []) {
    if (other === block) break;
    if (bare(headingOf(other)) === own) before++;
  }
  const name = before && sheet?.blocks?.includes(block) ? `${own}-${before + 1}` : own;
  return name === "question" || name === "answer" ? name + "-block" : name; // the page's own places
}
