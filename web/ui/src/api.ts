import type { Notice } from "./types";

// Fault is what the server found wrong with what was typed.
export class Fault extends Error {
  constructor(readonly list: Notice[]) {
    super(list.map((n) => n.what).join("; "));
  }
}

// Gone is that the server does not answer.
export class Gone extends Error {}

async function answer<T>(work: Promise<Response>): Promise<T> {
  let r: Response;
  try {
    r = await work;
  } catch (e) {
    if (e instanceof DOMException && e.name === "AbortError") throw e;
    throw new Gone("the program does not answer; is jetwright serve still running?");
  }
  if (r.status === 422 || r.status === 413) throw new Fault(((await r.json()) as { faults: Notice[] }).faults);
  if (!r.ok) throw new Fault([{ kind: "error", what: await r.text() }]);
  return (await r.json()) as T;
}

export const get = <T>(path: string, signal?: AbortSignal): Promise<T> => answer<T>(fetch(path, signal ? { signal } : {}));

export const post = <T>(path: string, question: unknown, signal?: AbortSignal): Promise<T> =>
  answer<T>(fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(question), ...(signal ? { signal } : {}) }));

export const send = <T>(path: string, file: Blob): Promise<T> =>
  answer<T>(fetch(path, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: file }));

let line: WebSocket | null = null; // that stays open for ticks
let waiting: ((text: string | null) => void) | null = null;

function dial(): void {
  const l = new WebSocket(`ws://${location.host}/api/ticks`);
  const end = (text: string | null): void => {
    const w = waiting;
    waiting = null;
    w?.(text);
  };
  l.onmessage = (e: MessageEvent<string>) => end(e.data);
  l.onclose = () => {
    if (line === l) line = null;
    end(null);
  };
  line = l;
}

// tick asks for a state over a line that stays open, which costs less than a request; while there is none it is asked as
// any other question.
export async function tick<T>(question: unknown): Promise<T> {
  const l = line;
  if (!l) dial();
  if (!l || l.readyState !== WebSocket.OPEN || waiting) return post<T>("/api/state", question);
  const text = await new Promise<string | null>((take) => {
    waiting = take;
    l.send(JSON.stringify(question));
  });
  if (text === null) return post<T>("/api/state", question);
  const code = text.slice(0, 3);
  if (code === "200") return JSON.parse(text.slice(4)) as T;
  if (code === "422") throw new Fault((JSON.parse(text.slice(4)) as { faults: Notice[] }).faults);
  throw new Fault([{ kind: "error", what: text.slice(4) }]);
}

// Newest runs one piece of work at a time; of those that come meanwhile only the last is done.
export class Newest {
  private busy = false;
  private next: (() => Promise<void>) | null = null;

  run(work: () => Promise<void>): void {
    if (this.busy) {
      this.next = work;
      return;
    }
    this.busy = true;
    void this.go(work);
  }

  private async go(work: () => Promise<void>): Promise<void> {
    for (let w: (() => Promise<void>) | null = work; w; ) {
      this.next = null;
      await w();
      w = this.next;
    }
    this.busy = false;
  }
}
