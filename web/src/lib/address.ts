// What matters of the page's state stands in its address, so that a page can be
// sent, reloaded and gone back to:
//   /QUESTION?day=61&at=in the cabin          a question
//   /QUESTION/parts/NAME                      a part to cut that its answer has
//   /QUESTION/parts/NAME/wall?point=4&alone   the part to be read from afar

/** The looks that an address may ask for: ?night */
export const looks = ["paper", "night", "sun"] as const;

export interface Place {
  question: string; // empty: the first of the table
  day: number;
  condition: string; // empty: the folder's first
  part: string; // empty: the question itself
  wall: boolean; // the part, to be read from afar
  point: number; // the first point shown on the wall; 0 shows what the part is
  alone: boolean; // one point at a time even where several would fit
}

const whole = (words: string | null) => {
  const n = Number.parseInt(words ?? "", 10);
  return Number.isFinite(n) && n > 0 ? n : 0;
};

/** Reads an address; what makes no sense is left at its beginning. */
export function read(location: { pathname: string; search: string }): Place {
  const asked = new URLSearchParams(location.search);
  const [question = "", parts, part = "", wall] = location.pathname.replace(/^\/+/, "").split("/").map(decodeURIComponent);
  const named = parts === "parts" ? part : "";
  return {
    question,
    day: whole(asked.get("day")),
    condition: asked.get("at") ?? "",
    part: named,
    wall: named !== "" && wall === "wall",
    point: whole(asked.get("point")),
    alone: asked.has("alone"),
  };
}

/** Writes an address. A condition that goes without saying is left out. */
export function write(place: Place, usual: string): string {
  const asked = new URLSearchParams();
  if (place.day > 0) asked.set("day", String(place.day));
  if (place.condition && place.condition !== usual) asked.set("at", place.condition);
  if (place.wall && place.point > 0) asked.set("point", String(place.point));
  if (place.wall && place.alone) asked.set("alone", "");
  // A look that the address asked for stays asked for.
  const now = new URLSearchParams(globalThis.location?.search ?? "");
  for (const look of looks) if (now.has(look)) asked.set(look, "");
  const words = asked.toString().replace(/=(?=&|$)/g, "");
  const path = [place.question, ...(place.part ? ["parts", place.part] : []), ...(place.part && place.wall ? ["wall"] : [])];
  return "/" + path.map(encodeURIComponent).join("/") + (words ? "?" + words : "");
}
