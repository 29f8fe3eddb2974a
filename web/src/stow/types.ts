// What the server sends of the stowage: Go's plan.Stowage, and of lists, offers and searches.

import type { Edit } from "../lib/trytypes";
import type { Drawing, List, Sheet } from "../lib/types";

export interface Stowage {
  views: List<StowView>;
  now: Stowed;
  calendar: List<OpenedWeek>;
  can_pin: boolean;
}

export interface StowView {
  name: string;
  drawing: Drawing;
  lockers: List<Outline>;
}

export interface Outline {
  locker: number;
  points: List<[number, number]>;
  at: [number, number];
  spots: List<Dot>;
}

export interface Dot {
  thing: string;
  at: [number, number];
  radius: number;
}

export interface Stowed {
  day: number;
  lockers: List<Locker>;
  things: List<Thing>;
  afloat: Afloat;
}

export interface Locker {
  name: string;
  short: string;
  word: string;
  side: "port" | "starboard" | "both";
  reach: string;
  wet: boolean;
  hatch: string;
  usable: string;
  filled: string;
  room: string;
  share: number;
  over: boolean;
  mass: string;
  limit: string;
  too_heavy: boolean;
  unknown: number;
  usable_m3: number;
  filled_m3: number;
  mass_kg: number;
  limit_kg: number;
}

export interface Thing {
  id: string;
  name: string;
  locker: number;
  count: number;
  left: number;
  mass: string;
  volume: string;
  group: string;
  used: string;
  reach: string;
  dry: boolean;
  pinned: boolean;
  fixed: boolean;
  file: string;
  line: number;
  key: string;
  was: string;
  pin_key: string;
  pin_was: string;
  mass_kg: number;
  volume_m3: number;
}

export interface Afloat {
  trim: string;
  heel: string;
  freeboard: string;
  why: string;
  trim_deg: number;
  heel_deg: number;
  freeboard_m: number;
}

export interface OpenedWeek {
  number: number;
  days: List<OpenedDay>;
}

export interface OpenedDay {
  day: number;
  port: List<Opened>;
  middle: List<Opened>;
  starboard: List<Opened>;
  said: string;
}

export interface Opened {
  locker: number;
  short: string;
  takes: string;
  new: boolean;
}

export interface ListNamed {
  kind: string;
  title: string;
}

export interface ListShown {
  kind: string;
  title: string;
  sheet: Sheet;
  stamp: string;
}

export interface OfferMade {
  name: string;
  why: string;
  edits: List<Edit>;
  fault?: string;
}

export interface Begun {
  seconds: number;
  elapsed_s: number;
}

export interface Found {
  sentence: string;
  gap: number | null;
  done: boolean;
  elapsed_s: number;
}

export interface FoundLast {
  found: Found;
  sheet: Sheet;
  offers: List<OfferMade>;
  stopped: boolean;
  stamp: string;
  trouble?: string;
}
