// What the server sends of the shape by hand: Go's byhand.Views, and web.Pulled.

import type { Edit } from "../lib/trytypes";
import type { Stowed } from "../stow/types";
import type { Drawing, Fault, List, Margin, Moved, Verdict } from "../lib/types";

export interface Views {
  body: Drawing;
  profile: Drawing;
  plan: Drawing;
  handles: List<Handle>;
}

export interface Handle {
  id: string;
  kind: "reading" | "weight";
  name: string;
  x: number;
  y: number;
  z: number;
  file: string;
  key: string;
  line: number;
  off: number;
  free: [boolean, boolean, boolean];
  mass: number;
  aft: boolean;
  end: boolean;
  misread: boolean;
  place: string;
  written: string;
  fair: string;
}

export interface PulledAnswer {
  question: string;
  title: string;
  verdict: Verdict;
  margin?: Margin;
  sentence?: string;
  change?: Moved;
  trouble?: string;
}

export interface Pulled {
  edits: List<Edit>;
  views?: Views;
  answers: List<PulledAnswer>;
  portrait?: Drawing;
  stowed?: Stowed;
  faults: List<Fault>;
}

/** What a hand pulls: the shape about a reading, one reading alone, or a weight. */
export type Pulls = "shape" | "reading" | "weight";

/** A place in the boat's frame, metres: aft, to starboard, up. */
export type Place = [number, number, number];
