import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { get, post } from "./api";
import { act, at, book, chosen, explained, fields, fitted, forgive, limits, sheet, step, trial, trialText, type, units, wanted, water, wrong } from "./store";
import type { Field, Fragment } from "./types";
import { partOf } from "./drawing";
import { Notices, Piece } from "./words";

const families: Record<string, string[]> = {
  impeller: ["impeller", "duct"], stator: ["stator", "flange", "housing"], nozzle: ["nozzle"], intake: ["intake"], shaft: ["shaft"], motor: ["motor"], controller: ["controller"],
  battery: ["battery"], cooling: ["cooling", "coolant", "thermal"], water: ["water", "duty", "craft"], stand: ["stand"],
};

const sectionsOf = (part: string): string[] => families[part] ?? [part];

export const parts = ["intake", "shaft", "impeller", "stator", "nozzle", "motor", "controller", "battery", "cooling", "water", "stand"];

// Panel is one part: its dimensions, and its checks.
export function Panel(): JSX.Element | null {
  const part = chosen.value;
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (part && !wanted.value) head.current?.focus();
  }, [part]);
  const version = book.value?.version;
  useEffect(() => {
    if (!part || (book.value?.runs.length ?? 0) === 0) {
      fitted.value = {};
      return;
    }
    // what the runs say comes when the hand rests
    const stop = new AbortController();
    const wait = setTimeout(async () => {
      try {
        fitted.value = await get<Record<string, string>>(`/api/fitted?units=${units.value}`, stop.signal);
      } catch {
        if (!stop.signal.aborted) fitted.value = {}; // why nothing can be fitted stands in the reckoning
      }
    }, 400);
    return () => {
      stop.abort();
      clearTimeout(wait);
    };
  }, [part !== "", version, units.value]);
  if (!part || !sheet.value) return null;
  const own = sheet.value.fields.filter((f) => sectionsOf(part).some((s) => f.part === s || f.part.startsWith(`${s}[`)));
  const stands = own.filter((f) => f.origin !== "left out");
  const left = own.filter((f) => f.origin === "left out");
  const checks = (limits.value?.limits ?? []).filter((l) => partOf(l) === part);
  return (
    <section class="panel" aria-labelledby="panel-title">
      <header>
        <h2 id="panel-title" tabindex={-1} ref={head}>
          {part}
        </h2>
        <button type="button" class="plain" onClick={() => (chosen.value = "")} aria-label={`close ${part}`}>
          Close
        </button>
      </header>
      {checks.length > 0 && (
        <ul class="checks">
          {checks.map((l) => (
            <li key={l.name} class={l.state.replace(" ", "-")}>
              <b>{l.state}</b> {l.name}
              {l.not_judged ? `: ${l.not_judged}` : `, ${l.left} left`}
            </li>
          ))}
        </ul>
      )}
      <div class="fields">
        {stands.map((f) => (
          <Row key={f.path} field={f} />
        ))}
      </div>
      <Measured fields={stands} />
      {left.length > 0 && (
        <details>
          <summary>{left.length} not typed</summary>
          <div class="fields">
            {left.map((f) => (
              <Row key={f.path} field={f} />
            ))}
          </div>
        </details>
      )}
    </section>
  );
}

// Measured lays what was measured on the finished part over what was drawn.
function Measured({ fields: list }: { fields: Field[] }): JSX.Element | null {
  const open = list.filter((f) => f.kind === "number" && f.origin !== "built");
  const [path, setPath] = useState("");
  const [text, setText] = useState("");
  const of = open.some((f) => f.path === path) ? path : (open[0]?.path ?? "");
  const key = `built.${of}`;
  const bad = wrong.value[key];
  if (open.length === 0) return null;
  return (
    <form
      class="measured"
      aria-label="measured on the finished part"
      onSubmit={(e) => {
        e.preventDefault();
        if (text.trim() === "") return;
        void type(key, text.trim()).then((taken) => taken && setText(""));
      }}
    >
      <span>As built:</span>
      <select aria-label="what was measured" value={of} onChange={(e) => setPath(e.currentTarget.value)}>
        {open.map((f) => (
          <option key={f.path} value={f.path}>
            {f.name}
          </option>
        ))}
      </select>
      <input aria-label="as measured" placeholder={open.find((f) => f.path === of)?.text ?? ""} value={text} autocomplete="off" spellcheck={false} onInput={(e) => setText(e.currentTarget.value)} />
      <button type="submit">Add</button>
      {bad && <Notices list={bad.list} />}
    </form>
  );
}

// Charts is how the drive follows the dimensions of a part. They are worked out when the hand rests; what stood stays until then.
export function Charts({ part }: { part: string }): JSX.Element {
  const [pieces, setPieces] = useState<Fragment[]>([]);
  const question = JSON.stringify({ sections: sectionsOf(part), at: at.value, water: water.value, units: units.value });
  const version = book.value?.version;
  useEffect(() => {
    const stop = new AbortController();
    const wait = setTimeout(async () => {
      try {
        setPieces(await post<Fragment[]>("/api/charts", JSON.parse(question), stop.signal));
      } catch {
        if (!stop.signal.aborted) setPieces([]); // why there is no state stands beside the drawing
      }
    }, 300);
    return () => {
      stop.abort();
      clearTimeout(wait);
    };
  }, [question, version]);
  return (
    <div class="charts">
      {pieces.map((p) => (
        <Piece key={p.id} piece={p} />
      ))}
    </div>
  );
}

// Row is one dimension. Typed, assumed and built are told apart by a word, and by how the frame is drawn; what the runs make of it
// stands below.
function Row({ field: f }: { field: Field }): JSX.Element {
  const input = useRef<HTMLInputElement & HTMLSelectElement>(null);
  const bad = wrong.value[f.path];
  const tried = trial.value?.path === f.path && trialText.value;
  const stands = bad ? bad.text : tried || (f.origin === "assumed" ? "" : f.text);
  const [draft, setDraft] = useState<string | null>(null); // while it is typed nothing else may write there
  const sent = useRef<string | null>(null); // and is on its way
  const text = draft ?? stands;
  useEffect(() => {
    if (wanted.value !== f.path) return;
    wanted.value = "";
    input.current?.focus();
    input.current?.scrollIntoView({ block: "center" });
  }, [wanted.value]);
  const take = (typed: string): void => {
    setDraft(null);
    const path = f.origin === "built" ? `built.${f.path}` : f.path;
    if (typed === (f.origin === "assumed" ? "" : f.text)) {
      forgive(f.path);
      return;
    }
    if (typed.trim() === "") {
      forgive(f.path);
      if (f.origin !== "assumed" && f.origin !== "left out") void act("clear", { path });
      return;
    }
    if (sent.current === typed) return; // Enter comes as a key and as a change
    sent.current = typed;
    setDraft(typed); // until the sheet has it, so that what stood before does not show again meanwhile
    void type(path, typed).then(() => {
      sent.current = null;
      setDraft((d) => (d === typed ? null : d));
    });
  };
  const unsaved = book.value?.unsaved.find((c) => c.path === f.path || c.path === `built.${f.path}`);
  const id = `field-${f.path}`;
  return (
    <div class={`field ${f.origin.replace(" ", "-")}${bad ? " bad" : ""}`}>
      <label for={id} title={f.meaning}>
        {f.name}
      </label>
      {f.choices && f.choices.length > 0 ? (
        <select id={id} ref={input} value={text || f.text} onChange={(e) => take(e.currentTarget.value)}>
          {!f.choices.includes(f.text) && <option value="">{f.origin === "left out" ? "not typed" : f.text}</option>}
          {f.choices.map((c) => (
            <option key={c} value={c}>
              {c}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          ref={input}
          value={text}
          placeholder={f.origin === "assumed" ? f.text : ""}
          data-draft={draft !== null ? "" : undefined}
          aria-invalid={bad ? true : undefined}
          aria-describedby={`${id}-origin`}
          autocomplete="off"
          spellcheck={false}
          onInput={(e) => setDraft(e.currentTarget.value)}
          onChange={(e) => take(e.currentTarget.value)}
          onBlur={(e) => draft !== null && take(e.currentTarget.value)}
          onKeyDown={(e) => {
            if (e.key === "Enter" && draft !== null) take(e.currentTarget.value);
            if (e.key === "Escape") {
              forgive(f.path);
              setDraft(null);
            }
            if ((e.key === "ArrowUp" || e.key === "ArrowDown") && (f.kind === "number" || f.kind === "whole")) {
              e.preventDefault();
              setDraft(null);
              step(f.path, (e.key === "ArrowUp" ? 1 : -1) * (e.shiftKey ? 10 : 1));
            }
          }}
        />
      )}
      <button type="button" class="origin" id={`${id}-origin`} onClick={() => (explained.value = f.path)} aria-label={`${f.origin}${f.drawn ? `, drawn ${f.drawn}` : ""}; explain ${f.path}`}>
        {f.origin}
      </button>
      {f.drawn && <p class="was">drawn {f.drawn}</p>}
      {fitted.value[f.path] && (
        <p class="was fits">
          <b>fitted</b> to the runs: {fitted.value[f.path]}
        </p>
      )}
      {unsaved && (
        <p class="was">
          saved: {unsaved.was ?? "not typed"}
        </p>
      )}
      {bad && <Notices list={bad.list} />}
    </div>
  );
}

// Finder leads to any number by its name.
export function Finder(): JSX.Element {
  const list = sheet.value?.fields ?? [];
  return (
    <label class="finder">
      <input
        list="paths"
        aria-label="find a number"
        placeholder="find …"
        autocomplete="off"
        onChange={(e) => {
          const f = fields.value.get(e.currentTarget.value.trim());
          if (!f) return;
          e.currentTarget.value = "";
          chosen.value = parts.find((p) => sectionsOf(p).includes(f.part.replace(/\[.*/, ""))) ?? f.part;
          wanted.value = f.path;
        }}
      />
      <datalist id="paths">
        {list.map((f) => (
          <option key={f.path} value={f.path}>
            {f.meaning}
          </option>
        ))}
      </datalist>
    </label>
  );
}
