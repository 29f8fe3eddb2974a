// The order in which an answer is laid out.

import type { Answer, Block, Sheet, Source } from "./types";

export interface Laid {
  rows: Block[][]; // one block across, or two small ones side by side
  cautions: Block[];
  sources: Source[];
}

/** So many figures stand beside a picture; more of them take the width, in two columns. */
const beside = 8;

/** A block that needs no more than half the width. */
function small(block: Block): boolean {
  if (block.drawing) {
    const d = block.drawing;
    return d.max_x - d.min_x < 1.7 * (d.max_y - d.min_y);
  }
  return block.figures !== undefined && (block.figures.rows ?? []).length <= beside;
}

const bare = (words: string) => words.toLowerCase().replace(/\W+/g, " ").trim();

/**
 * Pictures, figures and tables stay in the sheet's own order; how it was worked
 * out and the cautions come last, and what the sheet says of them already is
 * not said again from the answer.
 */
export function lay(answer: Answer, sheet: Sheet): Laid {
  const blocks = sheet.blocks ?? [];
  const rows: Block[][] = [];
  for (const block of blocks) {
    if (block.warning || block.sources) continue;
    const before = rows.at(-1);
    const one = before?.[0];
    const pair = before?.length === 1 && one && small(one) && small(block) && (one.drawing || block.drawing);
    if (pair) before.push(block);
    else rows.push([block]);
  }
  const cautions = blocks.filter((b) => b.warning);
  const said = new Set(cautions.map((b) => bare(b.warning?.text ?? "")));
  for (const text of answer.cautions ?? []) {
    if (!said.has(bare(text))) cautions.push({ warning: { text } });
  }
  const named = blocks.flatMap((b) => b.sources?.rows ?? []);
  const known = new Set(named.map((row) => bare(row.what)));
  const sources = [...(answer.method ?? []).filter((m) => !known.has(bare(m.what))), ...named];
  return { rows, cautions, sources };
}
