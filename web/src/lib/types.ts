// What the server sends. The names are Go's: internal/web/types_test.go fails
// when an interface here and its struct there do not have the same keys.

export type Verdict = "yes" | "close" | "no" | "cannot tell";

export interface Boat {
  name: string;
  about: string;
  units: "metric" | "feet";
  days: number;
  leave: string;
  first_day_conditions: string[];
  questions: QuestionShown[];
  groups: string[];
  number: number;
  stamp: string;
  stale: boolean;
  faults: Fault[];
  notes: NoteShown[];
  events: Event[];
}

export interface QuestionShown {
  id: string;
  title: string;
  group: string;
  search?: SearchShown;
}

/** What may be looked for to better a question's answer. */
export interface SearchShown {
  title: string;
  about: string;
}

export interface Fault {
  file: string;
  line: number;
  column: number;
  key: string;
  text: string;
  say: string;
  mend: string;
}

export interface NoteShown {
  file: string;
  line: number;
  column: number;
  what: string;
  why: string;
}

export interface Event {
  day: number;
  text: string;
}

export interface Asked {
  answer: Answer;
  sheet: Sheet;
  parts: List<PartListed>;
  stamp: string;
}

export interface PartListed {
  name: string;
  title: string;
  face: string;
  thickness_m: number;
  count: number;
  width_m: number;
  height_m: number;
  has_points: boolean;
  has_bevel: boolean;
  thick: string;
  size: string;
}

export interface Part {
  pattern: Pattern;
  listed: PartListed;
  shown: List<PointShown>;
  unit: string;
  checks: List<string>;
  number: number;
  of: number;
  before?: PartListed;
  next?: PartListed;
  stamp: string;
}

export interface PointShown {
  name: string;
  across: string;
  up: string;
  bevel: string;
}

export interface Pattern {
  name: string;
  title: string;
  face: string;
  drawing: Drawing;
  points?: List<PlotPoint>;
  notes?: List<string>;
  thickness_m: number;
  count: number;
}

export interface PlotPoint {
  name: string;
  x_m: number;
  y_m: number;
  bevel_rad: number;
  has_bevel: boolean;
}

export interface Told {
  question: string;
  answer?: Answer;
  change?: Moved;
  trouble?: string;
}

/** How far a margin is from the folder's as it stands. */
export interface Moved {
  value: number;
  unit: string;
  shown: string;
  known: boolean;
}

export interface Progress {
  done: number;
  total: number;
}

export interface End {
  stamp: string;
  trouble?: string;
}

export interface Changed {
  number: number;
  stamp: string;
  stale: boolean;
  tries: number;
}

// A list that Go left empty arrives as null.
export type List<T> = T[] | null;

export interface Answer {
  question: string;
  title: string;
  verdict: Verdict;
  sentence: string;
  margin?: Margin;
  worst?: Worst;
  figures: unknown;
  assumptions: List<Assumption>;
  needs: List<Need>;
  method: List<Method>;
  not_looked_at: List<string>;
  cautions: List<string>;
  offers?: List<Offer>;
}

/** A change of the folder that a question found to help. */
export interface Offer {
  name: string;
  why: string;
}

export interface Margin {
  value: number;
  unit: string;
  asked: number;
  confidence: number;
  spread: number;
  shown: string;
  what: string;
}

export interface Worst {
  day: number;
  condition: string;
}

export interface Assumption {
  what: string;
  value: string;
  why: string;
  file: string;
}

export interface Need {
  file: string;
  key: string;
  why: string;
}

export interface Method {
  what: string;
  source: string;
}

export interface Sheet {
  blocks: List<Block>;
}

export interface Block {
  text?: Text;
  figures?: Figures;
  table?: Table;
  chart?: Chart;
  field?: Field;
  matrix?: Matrix;
  drawing?: Drawing;
  map?: Map;
  solid?: Solid;
  warning?: Warning;
  sources?: Sources;
}

export interface Text {
  heading?: string;
  paragraphs: List<string>;
}

export interface Figures {
  heading?: string;
  rows: List<Figure>;
}

export interface Figure {
  name: string;
  value: number;
  unit?: string;
  places: number;
  spread?: number;
  text?: string;
  why?: string;
  method?: string;
  source?: string;
  inputs?: List<string>;
}

export interface Table {
  heading?: string;
  columns: List<Column>;
  rows: List<List<Cell>>;
  note?: string;
}

export interface Column {
  name: string;
  unit?: string;
  places: number;
  text?: boolean;
}

export interface Cell {
  value: number;
  text?: string;
  empty?: boolean;
  loud?: boolean;
}

export interface Chart {
  heading?: string;
  x: Axis;
  y: Axis;
  series: List<Series>;
  marks?: List<Mark>;
  alt: string;
}

export interface Axis {
  name: string;
  unit?: string;
  min: number;
  max: number;
  ticks: List<number>;
  places: number;
}

export interface Series {
  name: string;
  x: List<number>;
  y: List<number>;
  role: Role;
  width?: number;
  base?: List<number>;
}

export interface Field {
  heading?: string;
  x: Axis;
  y: Axis;
  z: Axis;
  xs: List<number>;
  ys: List<number>;
  values: List<List<number>>;
  levels: List<Level>;
  limit: number;
  limit_name: string;
  under: string;
  shown: number;
  shown_name: string;
  begin: number;
  note?: string;
  alt: string;
}

export interface Level {
  value: number;
  limit?: boolean;
  lines: List<List<[number, number]>>;
  areas: List<List<[number, number]>>;
  at: [number, number];
}

export interface Matrix {
  heading?: string;
  across: string;
  down: string;
  columns: List<Line>;
  rows: List<Line>;
  cells: List<List<Spot>>;
  key: List<Word>;
  unit?: string;
  places: number;
  note?: string;
  alt: string;
}

export interface Line {
  group?: string;
  name: string;
}

export interface Spot {
  standing: Standing;
  value: number;
  untold?: boolean;
  said: string;
}

export interface Word {
  standing: Standing;
  letter: string;
  text: string;
}

export type Standing = "holds" | "tight" | "short" | "lost" | "none";

export type Role =
  | "main"
  | "other"
  | "limit"
  | "water"
  | "sea"
  | "body"
  | "space"
  | "thing"
  | "grid"
  | "skin"
  | "pointer";

export interface Mark {
  x: number;
  y: number;
  text: string;
  role: Role;
}

export interface Drawing {
  heading?: string;
  min_x: number;
  min_y: number;
  max_x: number;
  max_y: number;
  paths: List<Path>;
  labels?: List<Label>;
  alt: string;
}

export interface Path {
  role: Role;
  name?: string;
  points: List<[number, number]>;
  closed?: boolean;
}

export interface Label {
  x: number;
  y: number;
  text: string;
  anchor: string;
  role: Role;
}

/** A piece of the earth; its places are projected already. Imported under another name, since the language has a Map too. */
export interface Map {
  heading?: string;
  min_x: number;
  min_y: number;
  max_x: number;
  max_y: number;
  land?: List<List<[number, number]>>;
  lines?: List<Path>;
  labels?: List<Label>;
  tracks?: List<Track>;
  x?: List<number>;
  y?: List<number>;
  all?: List<Box>;
  days?: List<MapOn>;
  steps?: List<Step>;
  all_means?: string;
  day_means?: string;
  mile?: number;
  notice?: string;
  alt: string;
}

export interface Track {
  name: string;
  role: Role;
  first: number;
  points: List<[number, number]>;
}

export interface Box {
  i: number;
  j: number;
  share: number;
}

export interface MapOn {
  day: number;
  boxes: List<Box>;
  said?: string;
}

export interface Step {
  from: number;
  text: string;
}

export interface Solid {
  heading?: string;
  surfaces: List<Surface>;
  up: [number, number, number];
  level: number;
  alt: string;
}

export interface Surface {
  role: Role;
  name: string;
  rows: List<List<[number, number, number]>>;
}

export interface Warning {
  text: string;
}

export interface Sources {
  rows: List<Source>;
}

export interface Source {
  what: string;
  source: string;
}
