import type { JSX } from "preact";
import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Drop, Freeze, Reading, Traces } from "./bench";
import { Drawing } from "./drawing";
import { Figures, Ledger, LimitList } from "./ledger";
import { Charts, Finder, Panel, parts } from "./panel";
import { Parts } from "./parts";
import { Explanation, Room } from "./rooms";
import { act, against, answer, answeredAt, at, book, chosen, explained, faults, followed, gone, keep, limits, listen, load, outdated, sheet, show, stale, theme, timings, units, water } from "./store";
import { Notices, Num, Save, Svg } from "./words";

// Blank is a word of a sentence that is filled in. While it is typed nothing else writes there.
function Blank({ name, size, value, usual, onTake }: { name: string; size: number; value: string; usual: string; onTake: (v: string) => void }): JSX.Element {
  const [draft, setDraft] = useState<string | null>(null);
  return (
    <input
      aria-label={name}
      size={size}
      value={draft ?? value}
      placeholder={usual}
      autocomplete="off"
      spellcheck={false}
      onInput={(e) => setDraft(e.currentTarget.value)}
      onChange={(e) => {
        setDraft(null);
        onTake(e.currentTarget.value.trim());
      }}
      onKeyDown={(e) => {
        if (e.key === "Escape") setDraft(null);
      }}
    />
  );
}

// Condition is where the drive is looked at, as a sentence.
function Condition(): JSX.Element {
  const a = at.value;
  const set = (k: keyof typeof a, v: string): void => {
    at.value = { ...a, [k]: v };
    show();
  };
  const kinds: [keyof typeof a, string][] = [["power", "power"], ["thrust", "thrust"], ["rotor_speed", "rotor speed"], ["throttle", "throttle"]];
  const kind = kinds.find(([k]) => a[k] !== "")?.[0] ?? demand.kind;
  demand.kind = kind;
  const f = (path: string): string => sheet.value?.fields.find((x) => x.path === path)?.text ?? "";
  const usual = { power: f("duty.power"), thrust: f("duty.thrust"), rotor_speed: "", throttle: "", place: "", speed: f("duty.speed") };
  return (
    <form class="condition" aria-label="condition" onSubmit={(e) => e.preventDefault()}>
      At a{" "}
      <select
        aria-label="what is given"
        value={kind}
        onChange={(e) => {
          const k = e.currentTarget.value as typeof kind;
          demand.kind = k;
          at.value = { ...a, power: "", thrust: "", rotor_speed: "", throttle: "" };
          show();
        }}
      >
        {kinds.map(([k, name]) => (
          <option key={k} value={k}>
            {name}
          </option>
        ))}
      </select>{" "}
      of{" "}
      <Blank name="amount" size={9} value={a[kind]} usual={usual[kind] || "design point"} onTake={(v) => set(kind, v)} />
      {kind === "power" && (
        <>
          {" "}
          at the{" "}
          <select aria-label="place of power" value={a.place} onChange={(e) => set("place", e.currentTarget.value)}>
            <option value="battery">battery</option>
            <option value="controller">controller</option>
            <option value="shaft">shaft</option>
          </select>
        </>
      )}
      , moving at{" "}
      <Blank name="craft speed" size={7} value={a.speed} usual={usual.speed || "0 m/s"} onTake={(v) => set("speed", v)} />, in{" "}
      <select
        aria-label="kind of water"
        value={water.value["water.kind"] ?? f("water.kind")}
        onChange={(e) => {
          water.value = { ...water.value, "water.kind": e.currentTarget.value };
          show();
        }}
      >
        {(sheet.value?.fields.find((x) => x.path === "water.kind")?.choices ?? []).map((c) => (
          <option key={c} value={c}>
            {c}
          </option>
        ))}
      </select>{" "}
      water of{" "}
      <Blank
        name="water temperature"
        size={11}
        value={water.value["water.temperature"] ?? ""}
        usual={f("water.temperature")}
        onTake={(v) => {
          water.value = { ...water.value, "water.temperature": v };
          show();
        }}
      />
    </form>
  );
}

const demand: { kind: "power" | "thrust" | "rotor_speed" | "throttle" | "place" | "speed" } = { kind: "thrust" };

// Headline is the answer in three sentences: what the drive does, what is nearest to breaking, what is not known.
function Headline(): JSX.Element | null {
  const l = limits.value;
  const t = answer.value?.texts;
  if (!l || !t) return null;
  const d = answer.value?.differences ?? {};
  const broken = l.limits.filter((x) => x.state === "broken");
  const open = l.limits.filter((x) => x.state === "not judged");
  const next = l.limits.find((x) => x.state === "near" || x.state === "clear");
  return (
    <section class={`headline${outdated.value ? " old" : ""}`} aria-label="in short">
      <p>
        <Num text={t.thrust ?? ""} path="thrust" difference={d.thrust} /> of thrust for <Num text={t.battery_power ?? ""} path="battery_power" difference={d.battery_power} /> from the battery.{" "}
        {broken.length > 0 ? (
          <strong class="broken">
            Broken: {broken.map((x) => x.name).join(", ")}.
          </strong>
        ) : (
          next && (
            <span>
              Nearest limit: {next.name}, {next.left.split(",")[0]} left.
            </span>
          )
        )}{" "}
        {open.length > 0 && <span class="open">{open.length} not judged.</span>}
      </p>
      <p class="lead">
        {answer.value?.condition}; {l.draws > 0 ? "brackets hold the 90 % interval" : "nominal, intervals follow"}. Framed: the difference from{" "}
        <select
          aria-label="compared with"
          value={against.value}
          onChange={(e) => {
            against.value = e.currentTarget.value;
            show();
          }}
        >
          <option value="">what is saved</option>
          {(book.value?.revisions ?? []).map((r) => (
            <option key={r} value={r}>
              revision {r}
            </option>
          ))}
        </select>
      </p>
    </section>
  );
}

// Bar is what is always at hand.
function Bar(): JSX.Element {
  const b = book.value;
  const n = b?.unsaved.length ?? 0;
  const name = b?.folder.replace(/\/+$/, "").split(/[\\/]/).pop() ?? "";
  return (
    <header class="bar">
      <h1>{name}</h1>
      <nav aria-label="rooms">
        <a href="#drive">Drive</a>
        <a href="#bench">Bench</a>
        <a href="#reckoning">Reckoning</a>
        <a href="#tonight">Tonight</a>
        <a href="#blades">Blades</a>
        <a href="#heat">Heat</a>
        <a href="#export">Parts</a>
        <a href="#revisions">Revisions</a>
      </nav>
      <Finder />
      <span class="acts">
        <button type="button" disabled={!b?.undo} onClick={() => void act("undo", {})} title={b?.undo ? `take back ${b.undo}` : ""} aria-label={`undo ${b?.undo ?? ""}`}>
          Undo
        </button>
        <button type="button" disabled={!b?.redo} onClick={() => void act("redo", {})} title={b?.redo ? `do ${b.redo} again` : ""} aria-label={`redo ${b?.redo ?? ""}`}>
          Redo
        </button>
        {/* never dead: a click on it takes what is still being typed first */}
        <button type="button" class="main" aria-disabled={n === 0} onClick={() => void act("save", {})}>
          {n === 0 ? "Saved" : `Save ${n} change${n === 1 ? "" : "s"}`}
        </button>
        <select
          aria-label="units"
          value={units.value}
          onChange={(e) => {
            units.value = e.currentTarget.value === "inch" ? "inch" : "metric";
            keep("units", units.value);
            void load().then(show);
          }}
        >
          <option value="metric">metric</option>
          <option value="inch">inch</option>
        </select>
        <select
          aria-label="light or dark"
          value={theme.value}
          onChange={(e) => {
            theme.value = e.currentTarget.value;
            keep("theme", theme.value);
          }}
        >
          <option value="as the system">light or dark</option>
          <option value="light">light</option>
          <option value="dark">dark</option>
        </select>
      </span>
    </header>
  );
}

// Questions are keys that were changed here and in the file.
function Questions(): JSX.Element | null {
  const list = book.value?.asked ?? [];
  if (list.length === 0) return null;
  return (
    <div class="notices" role="alert">
      {list.map((q) => (
        <p key={q.path}>
          <strong>{q.path}</strong> was changed in the file to <q>{q.file || "nothing"}</q> and here to <q>{q.own || "nothing"}</q>; it was <q>{q.was || "nothing"}</q>.{" "}
          <button type="button" onClick={() => void act("settle", { path: q.path, own: true })}>
            Keep what is here
          </button>{" "}
          <button type="button" onClick={() => void act("settle", { path: q.path, own: false })}>
            Take the file's
          </button>
        </p>
      ))}
    </div>
  );
}

function Page(): JSX.Element {
  const b = book.value;
  useEffect(() => {
    document.documentElement.dataset.theme = theme.value;
  }, [theme.value]);
  useEffect(() => {
    const keys = (e: KeyboardEvent): void => {
      // what is half typed is taken back by the browser, what stands by the book
      const typing = e.target instanceof HTMLInputElement && !(e.target.closest(".field") && e.target.dataset.draft === undefined);
      if (!(e.ctrlKey || e.metaKey)) return;
      const k = e.key.toLowerCase();
      if (k === "s") {
        e.preventDefault();
        if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
        void act("save", {});
      } else if (k === "z" && !typing) {
        e.preventDefault();
        void act(e.shiftKey ? "redo" : "undo", {});
      } else if (k === "y" && !typing) {
        e.preventDefault();
        void act("redo", {});
      }
    };
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, []);
  if (!b) return <p class="opening">{gone.value || "Opening the bench book …"}</p>;
  const old = outdated.value;
  return (
    <>
      <a class="skip" href="#drive">
        To the drive
      </a>
      <Bar />
      <main>
        {gone.value && (
          <div class="notices" role="alert">
            <p>
              <strong>{gone.value}</strong>
            </p>
          </div>
        )}
        <Questions />
        <Notices list={b.kept} />
        {b.faults.length > 0 && (
          <div class="faults">
            <h2>{b.open ? `The folder as it stands cannot be read; below is the last state that could, read at ${new Date(b.read).toLocaleString()}` : "The folder cannot be read yet"}</h2>
            <Notices list={b.faults} />
            <p>Mend it in a text editor; this page looks again by itself.</p>
          </div>
        )}
        <Notices list={faults.value} onClose={() => (faults.value = [])} />
        {b.open && (
          <>
            <section id="drive" aria-label="the drive">
              <Condition />
              {stale.value.length > 0 && (
                <div class="faults" role="alert">
                  <Notices list={stale.value} />
                  {answeredAt.value && <p>The figures below are the last that stood, of {answeredAt.value.toLocaleString()}.</p>}
                </div>
              )}
              <Headline />
              <div class={`board${old ? " old" : ""}`}>
                <div class="draft">
                  <Drawing />
                  <p class="row under">
                    <span>Parts:</span>
                    {parts.map((p) => (
                      <button type="button" key={p} class={`plain${chosen.value === p ? " on" : ""}`} aria-pressed={chosen.value === p} onClick={() => (chosen.value = chosen.value === p ? "" : p)}>
                        {p}
                      </button>
                    ))}
                  </p>
                </div>
                <div class="side">
                  <Panel />
                  <LimitList />
                </div>
                {chosen.value && <Charts key={chosen.value} part={chosen.value} />}
              </div>
              <div class={old ? "old" : ""}>
                <Ledger />
                <div class="two">
                  {answer.value?.curve && (
                    <section class="curve" aria-labelledby="curve-title">
                      <h2 id="curve-title">Thrust over power</h2>
                      <Svg text={answer.value.curve} class="sheet" />
                      <Save svg={answer.value.curve} name="thrust" />
                    </section>
                  )}
                  <Figures />
                </div>
                <Save svg={answer.value?.section} name="drive" />
              </div>
            </section>
            <Room
              name="bench"
              title="Bench"
              lead="What was measured, and what it is worth."
            >
              <>
                {runs.value.length === 0 && <p class="empty">No log yet. Plan the first day, then drop its logs here or type its readings in.</p>}
                <Reading />
                <Drop />
                <Traces runs={runs.value} />
                <p>
                  <a href={`/api/stand.html?units=${units.value}`} download>
                    The plan of the next bench day, to print
                  </a>
                </p>
              </>
            </Room>
            <Room name="reckoning" title="Reckoning" lead="Measured against predicted and promised, and what to do next.">
              <p>
                <a href={`/api/report.html?units=${units.value}`} download>
                  The report, whole, as one file
                </a>
              </p>
            </Room>
            <Room name="tonight" title="Tonight" lead="The three next acts, by what they teach or bring for an hour's work." />
            <Room name="blades" title="Blades" lead="What the blades do, where they lose, and the sections that the duty asks for." />
            <Room name="heat" title="Heat" lead="Temperatures now, over time, and what if." />
            <Room name="ride" title="On the water" lead="Over the hump or not, how fast, how far, how long." />
            <Room name="battery" title="Battery" lead="Cold and warm, full and low, and how long it lasts." />
            <Room name="motor" title="Motor and controller" lead="Its constant in every convention, its losses, and where the jet's own line runs." />
            <Room name="export" title="Parts" lead="What can be printed or milled of the drive as it stands, and the files that hold it." seen={() => <Parts />} />
            <Room name="revisions" title="Revisions" lead="What changed, what was predicted, what was measured.">
              <Freeze />
            </Room>
          </>
        )}
      </main>
      <footer>
        <p>What stands here is arithmetic on what was typed and read, no permission: local codes and licensed practice go first. Rotating parts, lithium batteries and current near water hurt people.</p>
      </footer>
      {explained.value && <Explanation path={explained.value} onClose={() => (explained.value = "")} />}
    </>
  );
}

import { computed } from "@preact/signals";
const runs = computed(() => book.value?.runs ?? []);

Object.assign(window, { jetwrightTimings: timings, jetwrightFollowed: followed });

const home = document.getElementById("page");
if (home) {
  home.replaceChildren();
  render(<Page />, home);
  void load().then(show);
  listen();
}
