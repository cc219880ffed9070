import { computed, signal } from "@preact/signals";
import { Fault, get, Gone, Newest, post, tick } from "./api";
import type { At, Book, Field, Limits, Notice, Sheet, State, Trial } from "./types";

// What the page knows. Everything shown is an answer of the server; the newest stands, the last good one stays
// while there is none.

export const book = signal<Book | null>(null);
export const sheet = signal<Sheet | null>(null);
export const answer = signal<State | null>(null);
export const answeredAt = signal<Date | null>(null);
export const stale = signal<Notice[]>([]); // why what is drawn is not the drive as typed
export const faults = signal<Notice[]>([]); // of what was asked last, shown as a message
export const gone = signal("");
export const chosen = signal("");
export const explained = signal("");
export const trial = signal<Trial | null>(null); // a dimension that is being dragged
export const trialText = signal("");
export const wrong = signal<Record<string, { text: string; list: Notice[] }>>({}); // texts that could not be taken, by path

const nothing: At = { power: "", place: "battery", thrust: "", rotor_speed: "", throttle: "", speed: "" };
export const at = signal<At>({ ...nothing });
export const against = signal(""); // revision that figures are compared with; what is saved if empty
export const water = signal<Record<string, string>>({});

const kept = (key: string, usual: string): string => {
  try {
    return localStorage.getItem(key) ?? usual;
  } catch {
    return usual;
  }
};
export const keep = (key: string, value: string): void => {
  try {
    localStorage.setItem(key, value);
  } catch {
    // a browser that keeps nothing shows the usual next time
  }
};
export const units = signal<"metric" | "inch">(kept("units", "metric") === "inch" ? "inch" : "metric");
export const theme = signal(kept("theme", "as the system"));

export const fitted = signal<Record<string, string>>({}); // what the runs leave of numbers, by path

export const fields = computed(() => {
  const out = new Map<string, Field>();
  for (const f of sheet.value?.fields ?? []) out.set(f.path, f);
  return out;
});

// what is drawn is not the drive as it stands: it has no state, or its folder cannot be read
export const outdated = computed(() => stale.value.length > 0 || (book.value?.open === true && book.value.faults.length > 0));

export const limits = computed<Limits | null>(() => answer.value?.limits ?? null);

const asking = new Newest();
let settling: number | undefined;
let marks = 0;
let since = 0;
let moved = 0; // when the hand moved last
let intervals = new AbortController(); // of the question that nobody waits for once the hand moves again
// times from an input to the pictures that it made, and to the intervals that followed, ms; tests read them
export const timings: number[] = [];
export const followed: number[] = [];

// show asks for the nominal state at once and for intervals when the hand rests.
export function show(): void {
  moved = performance.now();
  since ||= moved;
  intervals.abort();
  intervals = new AbortController();
  marks++;
  const mark = marks;
  if (settling !== undefined) clearTimeout(settling);
  asking.run(async () => ask(true));
  settling = window.setTimeout(() => {
    settling = undefined;
    if (mark === marks) asking.run(async () => ask(false));
  }, trial.value ? 120 : 30);
}

async function ask(nominal: boolean): Promise<void> {
  const t = trial.value;
  const began = since; // of the first change that is not drawn yet
  const last = moved;
  since = 0;
  try {
    const question = { nominal, at: at.value, water: water.value, try: t, units: units.value, drawing: true, curve: true, against: against.value };
    const a = await (nominal ? tick<State>(question) : post<State>("/api/state", question, intervals.signal));
    gone.value = "";
    if (t && !trial.value && nominal) return; // let go meanwhile
    if (a.text !== undefined) trialText.value = a.text;
    if (a.limits) {
      answer.value = a;
      answeredAt.value = new Date();
      stale.value = [];
    } else {
      // the drawing is new, the figures are the last that stood
      answer.value = { ...(answer.value ?? { version: a.version }), section: a.section, places: a.places };
      stale.value = a.faults ?? [];
    }
  } catch (e) {
    if (e instanceof Fault) stale.value = e.list;
    else if (e instanceof Gone) gone.value = e.message;
    else if (!(e instanceof DOMException)) throw e;
  }
  if (began) requestAnimationFrame(() => timings.push(performance.now() - began));
  if (!nominal && last === moved) requestAnimationFrame(() => followed.push(performance.now() - last));
}

export async function load(): Promise<void> {
  try {
    book.value = await get<Book>("/api/page");
    gone.value = "";
    if (book.value.open) sheet.value = await get<Sheet>(`/api/sheet?units=${units.value}`);
  } catch (e) {
    say(e);
  }
}

export function say(e: unknown): void {
  if (e instanceof Fault) faults.value = e.list;
  else if (e instanceof Gone) gone.value = e.message;
  else throw e;
}

let turn: Promise<unknown> = Promise.resolve();

// inTurn sends what changes the book one after another, as it was typed: what is saved holds what was typed before.
function inTurn(what: string, question: unknown): Promise<Book> {
  const next = turn.then(() => post<Book>(`/api/act/${what}`, question));
  turn = next.catch(() => undefined);
  return next;
}

// act changes the book, and shows what comes of it. What was tried and not kept yet goes first.
export async function act(what: string, question: Trial | { path?: string; own?: boolean }): Promise<boolean> {
  if (trial.value) void settle(trial.value);
  try {
    book.value = await inTurn(what, question);
    faults.value = [];
  } catch (e) {
    say(e);
    return false;
  }
  show();
  sheet.value = await get<Sheet>(`/api/sheet?units=${units.value}`);
  return true;
}

let resting: number | undefined;

// step tries a number some of its steps further; when the hand rests it is kept.
export function step(path: string, n: number): void {
  const t = trial.value;
  if (t && t.path !== path) void settle(t);
  trial.value = { path, steps: (t?.path === path ? (t.steps ?? 0) : 0) + n };
  show();
  clearTimeout(resting);
  resting = window.setTimeout(() => {
    if (trial.value?.path === path) void settle(trial.value);
  }, 600);
}

// settle keeps what was tried.
export async function settle(t: Trial): Promise<void> {
  clearTimeout(resting);
  if (trial.value === null && t.steps !== undefined) return; // it was kept already
  trial.value = null;
  trialText.value = "";
  if (!(await act("edit", t))) show();
}

// drop forgets what was tried.
export function drop(): void {
  clearTimeout(resting);
  if (!trial.value) return;
  trial.value = null;
  trialText.value = "";
  show();
}

export const wanted = signal(""); // the field that is to have the focus

// focusOn opens a part at one of its fields.
export function focusOn(f: Field): void {
  chosen.value = f.part;
  wanted.value = f.path;
}

// nominal is the number of a field in its unit.
export function nominal(f: Field): number {
  for (const [k, v] of Object.entries(f)) {
    if (k.startsWith("value") && typeof v === "object" && v !== null && "value" in v) return (v as { value: number }).value;
  }
  return 0;
}

// type takes a text for a key. One that cannot be taken stays where it was typed, with what is wrong.
export async function type(path: string, text: string): Promise<boolean> {
  try {
    book.value = await inTurn("edit", { path, text });
  } catch (e) {
    if (e instanceof Fault) {
      wrong.value = { ...wrong.value, [path]: { text, list: e.list } };
      return false;
    }
    say(e);
    return false;
  }
  forgive(path);
  show();
  sheet.value = await get<Sheet>(`/api/sheet?units=${units.value}`);
  return true;
}

export function forgive(path: string): void {
  if (!(path in wrong.value)) return;
  const { [path]: _, ...rest } = wrong.value;
  wrong.value = rest;
}

// listen hears of changes made elsewhere.
export function listen(): void {
  const events = new EventSource("/api/events");
  events.onmessage = (e) => {
    gone.value = "";
    if (book.value && Number(e.data) === book.value.version) return;
    void load().then(show);
  };
  events.onerror = () => {
    gone.value = "the program does not answer; is jetwright serve still running?";
  };
}
