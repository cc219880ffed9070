import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Fault, get, Gone, Newest, post, send } from "./api";
import { book, gone, load, say, units } from "./store";
import type { Guess, Notice, Traces as Window } from "./types";
import { Aside } from "./rooms";
import { Notices, Save, Svg } from "./words";

const today = (): string => {
  const d = new Date();
  return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, "0")}-${String(d.getDate()).padStart(2, "0")}`;
};

interface Fix { channel: string; unit: string; words: boolean }

// Drop takes logs: shows over their first rows how they would be read, lets that be corrected, and adopts them.
export function Drop(): JSX.Element {
  const [guesses, setGuesses] = useState<Guess[]>([]);
  const [fixes, setFixes] = useState<Record<string, Fix>>({});
  const [list, setList] = useState<Notice[]>([]);
  const [run, setRun] = useState(today());
  const [over, setOver] = useState(false);
  const [busy, setBusy] = useState("");
  const file = useRef<HTMLInputElement>(null);
  const fail = (e: unknown): void => {
    if (e instanceof Fault) setList(e.list);
    else say(e);
  };
  const take = async (files: Iterable<File>): Promise<void> => {
    setList([]);
    for (const f of files) {
      setBusy(`Reading ${f.name} …`);
      try {
        const g = await send<Guess>(`/api/drop?name=${encodeURIComponent(f.name)}`, f);
        setGuesses((old) => [...old, g]);
      } catch (e) {
        fail(e);
      }
    }
    setBusy("");
  };
  useEffect(() => {
    const stop = (e: DragEvent): void => e.preventDefault(); // a log beside the box must not open in its place
    addEventListener("dragover", stop);
    addEventListener("drop", stop);
    return () => {
      removeEventListener("dragover", stop);
      removeEventListener("drop", stop);
    };
  }, []);
  const adopt = async (): Promise<void> => {
    const corrections: { file: string; column: number; channel: string; unit: string; words: boolean }[] = [];
    for (const g of guesses) {
      for (const l of g.guess.logs) {
        l.columns.forEach((_, i) => {
          const f = fixes[`${g.id} ${i}`];
          if (f) corrections.push({ file: l.file, column: i, ...f });
        });
      }
    }
    setBusy("Adopting …");
    try {
      await post("/api/adopt", { run, logs: guesses.map((g) => g.id), corrections });
      setGuesses([]);
      setFixes({});
      setList([]);
      await load();
    } catch (e) {
      fail(e);
    }
    setBusy("");
  };
  return (
    <div class="drop">
      <div
        class={`box${over ? " over" : ""}`}
        onDragEnter={() => setOver(true)}
        onDragLeave={() => setOver(false)}
        onDragOver={(e) => {
          e.preventDefault();
          setOver(true);
        }}
        onDrop={(e) => {
          e.preventDefault();
          setOver(false);
          if (e.dataTransfer) void take([...e.dataTransfer.files]);
        }}
      >
        <p>
          Drop the logs of one day here, or{" "}
          <button type="button" class="plain" onClick={() => file.current?.click()}>
            choose files
          </button>
          . They are copied as they are; nothing in them is changed.
        </p>
        <input
          ref={file}
          id="logs"
          type="file"
          multiple
          hidden
          aria-label="logs to adopt"
          onChange={(e) => {
            const f = e.currentTarget.files;
            if (f) void take([...f]);
            e.currentTarget.value = ""; // so that the same file can be chosen again
          }}
        />
        {busy && <p role="status">{busy}</p>}
      </div>
      <Notices list={list} onClose={() => setList([])} />
      {guesses.map((g) => g.guess.logs.map((l) => <Guessed key={g.id} guess={g} log={l} fixes={fixes} onFix={(i, f) => setFixes({ ...fixes, [`${g.id} ${i}`]: f })} />))}
      {guesses.length > 0 && (
        <p class="row">
          <label>
            Name of the run <input id="run-name" value={run} onChange={(e) => setRun(e.currentTarget.value.trim())} />
          </label>
          <button type="button" class="main" onClick={() => void adopt()}>
            Adopt {guesses.length === 1 ? "this log" : `these ${guesses.length} logs`}
          </button>
          <button type="button" class="plain" onClick={() => setGuesses([])}>
            Leave it
          </button>
        </p>
      )}
    </div>
  );
}

function Guessed({ guess, log: l, fixes, onFix }: { guess: Guess; log: Guess["guess"]["logs"][number]; fixes: Record<string, Fix>; onFix: (i: number, f: Fix) => void }): JSX.Element {
  return (
    <div class="guessed">
      <h3>{l.file}</h3>
      <p class="lead">
        {l.rows} rows over {Math.round(l.duration_s)} s, {l.encoding}. This is how it would be read; change what is wrong.
      </p>
      <div class="scroll">
        <table>
          <thead>
            <tr>
              {l.columns.map((c, i) => {
                const f = fixes[`${guess.id} ${i}`] ?? { channel: c.channel, unit: c.unit, words: c.words };
                const known = guess.channels.find((k) => k.Name === f.channel);
                return (
                  <th key={i} scope="col">
                    <span>{c.name}</span>
                    {c.time ? (
                      <em>time</em>
                    ) : (
                      <>
                        <select
                          aria-label={`channel of ${c.name}`}
                          value={f.channel}
                          onChange={(e) => {
                            const channel = e.currentTarget.value;
                            const u = guess.channels.find((k) => k.Name === channel)?.Units ?? [];
                            onFix(i, { channel, unit: channel === "" || u.includes(f.unit) ? f.unit : (u[0] ?? ""), words: false });
                          }}
                        >
                          <option value="">not used</option>
                          {guess.channels.map((k) => (
                            <option key={k.Name} value={k.Name}>
                              {k.Name}
                            </option>
                          ))}
                        </select>
                        {known?.Units && (
                          <select aria-label={`unit of ${c.name}`} value={f.unit} onChange={(e) => onFix(i, { ...f, unit: e.currentTarget.value })}>
                            {!known.Units.includes(f.unit) && <option value={f.unit}>{f.unit || "unit?"}</option>}
                            {known.Units.map((u) => (
                              <option key={u} value={u}>
                                {u}
                              </option>
                            ))}
                          </select>
                        )}
                      </>
                    )}
                  </th>
                );
              })}
            </tr>
          </thead>
          <tbody>
            {l.first_rows.map((r, i) => (
              <tr key={i}>
                {r.map((c, k) => (
                  <td key={k}>{c}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Notices list={l.notices} />
    </div>
  );
}

const readings: [string, string, string][] = [
  ["power", "power", "1.2 kW"], ["thrust", "pull", "16.4 kgf"], ["rotor_speed", "rotor speed", "2900 rpm"], ["battery_voltage", "battery voltage", "47 V"],
  ["phase_current", "phase current", "40 A"], ["winding_temperature", "winding", "24 °C"], ["bridge_temperature", "bridge", "20 °C"], ["held", "held for", "60 s"],
];

// Reading is typed in while the drive runs: Tab goes on, Enter keeps it.
export function Reading(): JSX.Element {
  const [values, setValues] = useState<Record<string, string>>({ place: "battery" });
  const [list, setList] = useState<Notice[]>([]);
  const [said, setSaid] = useState("");
  const first = useRef<HTMLInputElement>(null);
  const keep = async (): Promise<void> => {
    try {
      await post("/api/note", { run: values.run ?? "", values: Object.fromEntries(Object.entries(values).filter(([k]) => k !== "run")) });
      setSaid(`Kept: ${values.power ?? values.rotor_speed ?? ""}`);
      setList([]);
      setValues({ place: values.place ?? "battery", run: values.run ?? "" });
      first.current?.focus();
      await load();
    } catch (e) {
      if (e instanceof Fault) setList(e.list);
      else if (e instanceof Gone) gone.value = e.message;
      else throw e;
    }
  };
  return (
    <form
      class="reading"
      aria-label="type a reading in"
      onSubmit={(e) => {
        e.preventDefault();
        void keep();
      }}
    >
      <h3>Type a reading in</h3>
      <div class="row">
        {readings.map(([key, name, like], i) => (
          <label key={key}>
            <span>{name}</span>
            <input ref={i === 0 ? first : undefined} name={key} value={values[key] ?? ""} placeholder={like} autocomplete="off" onInput={(e) => setValues({ ...values, [key]: e.currentTarget.value })} />
          </label>
        ))}
        <label>
          <span>power is at the</span>
          <select name="place" value={values.place} onChange={(e) => setValues({ ...values, place: e.currentTarget.value })}>
            <option value="battery">battery</option>
            <option value="controller">controller</option>
            <option value="shaft">shaft</option>
          </select>
        </label>
        <label>
          <span>in the run</span>
          <input name="run" value={values.run ?? ""} placeholder={today()} autocomplete="off" onInput={(e) => setValues({ ...values, run: e.currentTarget.value.trim() })} />
        </label>
        <button type="submit" class="main">
          Keep it
        </button>
      </div>
      <p role="status">{said}</p>
      <Notices list={list} />
    </form>
  );
}

// Traces is the logs of a run over time: the wheel and the keys zoom, dragging pans.
export function Traces({ runs }: { runs: string[] }): JSX.Element | null {
  const [run, setRun] = useState(runs[runs.length - 1] ?? "");
  const [at, setAt] = useState<Window | null>(null);
  const [list, setList] = useState<Notice[]>([]);
  const [budget, setBudget] = useState(0);
  const asking = useRef(new Newest());
  const want = useRef<{ from: number; to: number } | null>(null);
  const hold = useRef<{ x: number; from: number; to: number } | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const ask = (from?: number, to?: number): void => {
    want.current = from !== undefined && to !== undefined ? { from, to } : null;
    asking.current.run(async () => {
      const width = Math.max(480, Math.min(1400, box.current?.clientWidth ?? 900));
      const w = want.current;
      try {
        setAt(await get<Window>(`/api/traces?run=${encodeURIComponent(run)}&units=${units.value}&width=${width}${w ? `&from=${w.from}&to=${w.to}` : ""}`));
        setList([]);
      } catch (e) {
        if (e instanceof Fault) setList(e.list);
        else if (e instanceof Gone) gone.value = e.message;
        else throw e;
      }
    });
  };
  const version = book.value?.version;
  useEffect(() => {
    if (run) ask(want.current?.from, want.current?.to);
  }, [run, units.value, version]);
  useEffect(() => {
    if (!run && runs.length > 0) setRun(runs[runs.length - 1] ?? "");
  }, [runs.length]);
  if (!run) return null;
  const zoom = (by: number, about: number): void => {
    const w = want.current ?? at;
    if (!w || !at) return;
    const mid = w.from + about * (w.to - w.from);
    const half = Math.max(0.2, (w.to - w.from) * by);
    let from = mid - about * half;
    let to = from + half;
    from = Math.max(at.first, from);
    to = Math.min(at.last, to);
    ask(from, to);
  };
  const pan = (share: number): void => {
    const w = want.current ?? at;
    if (!w || !at) return;
    const by = Math.max(at.first - w.from, Math.min(at.last - w.to, share * (w.to - w.from)));
    ask(w.from + by, w.to + by);
  };
  return (
    <div class="traces">
      <p class="row">
        <label>
          Logs of{" "}
          <select value={run} aria-label="run" onChange={(e) => { want.current = null; setRun(e.currentTarget.value); }}>
            {runs.map((r) => (
              <option key={r} value={r}>
                {r}
              </option>
            ))}
          </select>
        </label>
        <button type="button" class="plain" onClick={() => zoom(0.5, 0.5)}>Closer</button>
        <button type="button" class="plain" onClick={() => zoom(2, 0.5)}>Wider</button>
        <button type="button" class="plain" onClick={() => pan(-0.3)}>Earlier</button>
        <button type="button" class="plain" onClick={() => pan(0.3)}>Later</button>
        <button type="button" class="plain" onClick={() => ask()}>All of it</button>
        {at && at.plateaus > 0 && (
          <label>
            What a plateau's uncertainty is made of{" "}
            <select id="budget" value="" onChange={(e) => setBudget(Number(e.currentTarget.value))}>
              <option value="">choose</option>
              {Array.from({ length: at.plateaus }, (_, i) => (
                <option key={i} value={i + 1}>
                  plateau {i + 1}
                </option>
              ))}
            </select>
          </label>
        )}
      </p>
      <Notices list={list} />
      <div
        ref={box}
        class="window"
        tabindex={0}
        role="group"
        aria-label="logs over time; plus and minus zoom, the arrow keys move"
        onWheel={(e) => {
          if (!e.ctrlKey && !e.shiftKey && !e.altKey) return; // the page scrolls by the wheel alone
          e.preventDefault();
          const b = e.currentTarget.getBoundingClientRect();
          zoom(e.deltaY + e.deltaX > 0 ? 1.25 : 0.8, (e.clientX - b.left) / b.width);
        }}
        onPointerDown={(e) => {
          const w = want.current ?? at;
          if (!w) return;
          hold.current = { x: e.clientX, from: w.from, to: w.to };
          e.currentTarget.setPointerCapture(e.pointerId);
        }}
        onPointerMove={(e) => {
          const h = hold.current;
          if (!h || !at) return;
          const b = e.currentTarget.getBoundingClientRect();
          const by = Math.max(at.first - h.from, Math.min(at.last - h.to, ((h.x - e.clientX) / b.width) * (h.to - h.from)));
          ask(h.from + by, h.to + by);
        }}
        onPointerUp={() => (hold.current = null)}
        onPointerCancel={() => (hold.current = null)}
        onKeyDown={(e) => {
          const k: Record<string, () => void> = { "+": () => zoom(0.5, 0.5), "=": () => zoom(0.5, 0.5), "-": () => zoom(2, 0.5), ArrowLeft: () => pan(-0.2), ArrowRight: () => pan(0.2), Home: () => ask() };
          const f = k[e.key];
          if (!f) return;
          e.preventDefault();
          f();
        }}
      >
        {at && <Svg text={at.svg} class="sheet" />}
      </div>
      <p class="lead">Ctrl and the wheel zoom, dragging moves along. Tinted: plateaus. Hatched and named: zero windows, and what is doubted.</p>
      <Save svg={at?.svg} name={`logs-${run}`} />
      {budget > 0 && (
        <Aside title={`Plateau ${budget} of ${run}`} from={`/api/room/budget?run=${encodeURIComponent(run)}&plateau=${budget}&units=${units.value}`} onClose={() => setBudget(0)} />
      )}
    </div>
  );
}

// Freeze keeps the design as it was saved, with a note.
export function Freeze(): JSX.Element {
  const [note, setNote] = useState("");
  const [list, setList] = useState<Notice[]>([]);
  const [said, setSaid] = useState("");
  const unsaved = (book.value?.unsaved.length ?? 0) > 0;
  const freeze = async (): Promise<void> => {
    try {
      const a = await post<{ file?: string }>("/api/freeze", { note });
      setSaid(`Frozen as ${a.file ?? "a revision"}`);
      setNote("");
      setList([]);
      await load();
    } catch (e) {
      if (e instanceof Fault) setList(e.list);
      else say(e);
    }
  };
  return (
    <form
      class="reading"
      aria-label="freeze a revision"
      onSubmit={(e) => {
        e.preventDefault();
        void freeze();
      }}
    >
      <div class="row">
        <label class="wide">
          <span>what is different, in a few words</span>
          <input name="note" value={note} placeholder="longer nose, nozzle 60 mm milled" autocomplete="off" onInput={(e) => setNote(e.currentTarget.value)} />
        </label>
        <button type="submit" class="main" disabled={unsaved || note.trim() === ""}>
          Freeze this revision
        </button>
      </div>
      <p role="status">{unsaved ? "Save the changes first: what is frozen is the file." : said}</p>
      <Notices list={list} />
    </form>
  );
}
