// What the server answers. Numbers come with their texts; nothing is worked out here.

export interface Notice { kind: string; what: string; place?: string; path?: string; allowed?: string; way_out?: string }

export interface Figure { value: number; low: number; high: number; text: string }

export interface Change { path: string; was?: string; now?: string }

export interface Asked { path: string; was: string; file: string; own: string }

export interface Book {
  folder: string; version: number; open: boolean; unsaved: Change[]; undo: string; redo: string; asked: Asked[]; faults: Notice[]; kept: Notice[]; read: string; runs: string[]; revisions: string[];
}

export interface Field {
  path: string; part: string; name: string; meaning: string; kind: "number" | "whole" | "flag" | "words" | "text" | "list";
  origin: "typed" | "assumed" | "built" | "left out"; text: string; shown?: string; drawn?: string; place?: string; source?: string;
  allowed?: string; assumed?: string; required?: boolean; uncertain?: boolean; choices?: string[];
}

export interface Sheet { fields: Field[]; notices: Notice[] }

export interface Limit {
  name: string; part: string; state: "broken" | "near" | "clear" | "not judged"; margin: Figure; left: string; why: string; not_judged?: string; hazard: boolean;
  factor?: number; moved_by: string[] | string | null; [key: string]: unknown;
}

export interface LedgerLine { name: string; path: string; power_W: Figure; share_text: string }

export interface Limits {
  draws: number; state: Record<string, unknown>; ledger: LedgerLine[]; limits: Limit[]; fine: boolean; notices: Notice[];
  doubt: { of: string; shares: { path: string; share: number; assumed: boolean; value: string }[] };
}

export interface PartPlace { part: string; name: string; x: number; y: number; w: number; h: number }

export interface Handle { path: string; x: number; y: number; upright: boolean; per_pixel: number }

export interface Places { width: number; height: number; parts: PartPlace[]; handles: Handle[] }

export interface State {
  version: number; text?: string; limits?: Limits; section?: string; places?: Places; ledger?: string; curve?: string; condition?: string;
  differences?: Record<string, string>; texts?: Record<string, string>; faults?: Notice[];
}

export interface At { power: string; place: string; thrust: string; rotor_speed: string; throttle: string; speed: string }

export interface Trial { path: string; text?: string; steps?: number; by?: number }

export interface Fragment { id: string; title: string; html: string }

export interface Column { name: string; unit: string; channel: string; words: boolean; missing: number; time: boolean }

export interface GuessedLog { file: string; rows: number; duration_s: number; encoding: string; delimiter: string; columns: Column[]; first_rows: string[][]; notices: Notice[] }

export interface Guess { id: string; guess: { run: string; logs: GuessedLog[] }; channels: { Name: string; Units: string[] | null }[] }

export interface Traces { from: number; to: number; first: number; last: number; plateaus: number; svg: string }

export interface Solids { solids: { name: string; title: string }[] }
