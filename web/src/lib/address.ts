// What matters of the page's state stands in its address, so that a page can be
// sent, reloaded and gone back to:
//   /QUESTION?day=61&at=in the cabin          a question
//   /QUESTION?shed                            its answer in one figure, to be read from afar
//   /QUESTION/parts/NAME                      a part to cut that its answer has
//   /QUESTION/parts/NAME/wall?point=4&alone   the part to be read from afar
//   /levers /tries /folder /hand /stowage     what stands beside the questions
//   /folder?file=boat.yaml&key=water          the line of a file
// and on all of them ?try=NAME&units=feet.

/** The looks that an address may ask for: ?night */
export const looks = ["paper", "night", "sun"] as const;

/** The pages that stand beside the questions. */
export const besides = ["levers", "tries", "folder", "hand", "stowage"] as const;
export type Beside = (typeof besides)[number];

export interface Place {
  page: Beside | ""; // empty: a question
  question: string; // empty: the first of the table
  day: number;
  condition: string; // empty: the folder's first
  part: string; // empty: the question itself
  wall: boolean; // the part, to be read from afar
  point: number; // the first point shown on the wall; 0 shows what the part is
  alone: boolean; // one point at a time even where several would fit
  shed: boolean; // the answer in one figure
  try: string; // empty: the folder as it stands
  units: string; // empty: the folder's own
  file: string; // of the folder, on its page
  key: string; // the value in that file
}

const whole = (words: string | null) => {
  const n = Number.parseInt(words ?? "", 10);
  return Number.isFinite(n) && n > 0 ? n : 0;
};

const plain = (words: string) => {
  try {
    return decodeURIComponent(words);
  } catch {
    return words; // a per cent sign that is only itself
  }
};

/** Reads an address; what makes no sense is left at its beginning. */
export function read(location: { pathname: string; search: string }): Place {
  const asked = new URLSearchParams(location.search);
  const [first = "", parts, part = "", wall] = location.pathname.replace(/^\/+/, "").split("/").map(plain);
  const page = besides.find((b) => b === first) ?? "";
  const named = !page && parts === "parts" ? part : "";
  const units = asked.get("units") ?? "";
  return {
    page,
    question: page ? "" : first,
    day: whole(asked.get("day")),
    condition: asked.get("at") ?? "",
    part: named,
    wall: named !== "" && wall === "wall",
    point: whole(asked.get("point")),
    alone: asked.has("alone"),
    shed: !page && !named && asked.has("shed"),
    try: asked.get("try") ?? "",
    units: units === "feet" || units === "metric" ? units : "",
    file: page === "folder" ? (asked.get("file") ?? "") : "",
    key: page === "folder" ? (asked.get("key") ?? "") : "",
  };
}

/** Writes an address. A condition, or units, that go without saying are left out. */
export function write(place: Place, usual: string, usualUnits: string): string {
  const asked = new URLSearchParams();
  if (place.try) asked.set("try", place.try);
  if (place.day > 0) asked.set("day", String(place.day));
  if (place.condition && place.condition !== usual) asked.set("at", place.condition);
  if (place.units && place.units !== usualUnits) asked.set("units", place.units);
  if (place.page === "folder" && place.file) asked.set("file", place.file);
  if (place.page === "folder" && place.file && place.key) asked.set("key", place.key);
  if (place.shed && !place.page && !place.part) asked.set("shed", "");
  if (place.wall && place.point > 0) asked.set("point", String(place.point));
  if (place.wall && place.alone) asked.set("alone", "");
  // A look that the address asked for stays asked for.
  const now = new URLSearchParams(globalThis.location?.search ?? "");
  for (const look of looks) if (now.has(look)) asked.set(look, "");
  const words = asked.toString().replace(/=(?=&|$)/g, "");
  const path = place.page ? [place.page] : [place.question, ...(place.part ? ["parts", place.part] : []), ...(place.part && place.wall ? ["wall"] : [])];
  return "/" + path.map(encodeURIComponent).join("/") + (words ? "?" + words : "");
}
