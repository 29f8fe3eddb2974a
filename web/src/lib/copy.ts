// Giving text away.

/** Puts text on the clipboard; false where the browser does not let the page. */
export async function copy(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/** Rows as text: a tab between columns, so that a spreadsheet takes them apart again. */
export function lines(rows: string[][]): string {
  return rows.map((row) => row.map((cell) => cell.replace(/\s+/g, " ").trim()).join("\t")).join("\n") + "\n";
}
