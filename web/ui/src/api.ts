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
