// What the server sends of edits, tries and levers.

import type { Fault, List, Margin, NoteShown, Verdict } from "./types";

/** One change of the folder's text; Go's boatfolder.Edit. */
export interface Edit {
  file: string;
  key: string;
  do?: "" | "insert" | "remove";
  of?: string;
  was?: string;
  text?: string;
}

/** A value of a file that an edit may set. */
export interface Value {
  file: string;
  key: string;
  of: string;
  line: number;
  column: number;
  width: number;
  text: string;
  kind: string;
  what: string;
  choices?: List<string>;
}

/** One line before and after. */
export interface Change {
  file: string;
  line: number;
  before: string;
  after: string;
  new: boolean;
  gone: boolean;
}

/** A named list of edits, as it is stored. */
export interface Try {
  name: string;
  edits: List<Edit>;
}

export interface Tried extends Try {
  changes: List<Change>;
  faults: List<Fault>;
}

export interface TriesNow {
  version: number;
  tries: List<Tried>;
  trouble?: string;
}

/** What keeping a try wrote. */
export interface Kept {
  changes: List<Change>;
  stamp: string;
  version: number;
}

export interface FileShown {
  name: string;
  text: string;
  values: List<Value>;
}

export interface FolderShown {
  stamp: string;
  name_of_try: string;
  files: List<FileShown>;
  faults: List<Fault>;
  notes: List<NoteShown>;
}

export interface Drafted {
  changes: List<Change>;
  faults: List<Fault>;
  values: List<Value>;
  stamp: string;
}

export interface NeedShown {
  question: string;
  title: string;
  questions: List<string>;
  file: string;
  key: string;
  why: string;
  line: number;
}

export interface AssumedShown {
  what: string;
  value: string;
  why: string;
  file: string;
  key: string;
  line: number;
  questions: List<string>;
}

export interface NeedsNow {
  needs: List<NeedShown>;
  assumptions: List<AssumedShown>;
  stamp: string;
}

export interface Lever {
  name: string;
  group: string;
  own: boolean;
  edits: List<Edit>;
  fault?: string;
}

export interface LeverCell {
  question: string;
  was: Verdict;
  verdict: Verdict;
  margin?: Margin;
  change: number;
  known: boolean;
  shown: string;
  trouble?: string;
}

export interface LeverRow {
  lever: number;
  cells: List<LeverCell>;
  trouble?: string;
  nothing?: boolean;
}

export interface LeverQuestion {
  id: string;
  title: string;
}

export interface LeverBase {
  question: string;
  verdict: Verdict;
  margin?: Margin;
  sentence: string;
}

export interface LeverList {
  levers: List<Lever>;
  questions: List<LeverQuestion>;
  base: List<LeverBase>;
  tightest: string;
}

export interface LeverEnd {
  order: List<number>;
  stamp: string;
  trouble?: string;
}
