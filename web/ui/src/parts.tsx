import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Fault, get, Gone, post } from "./api";
import type { Model } from "./model";
import { book, gone, theme } from "./store";
import type { Notice, Solids } from "./types";
import { Notices } from "./words";

// Parts shows what can be made of the drive, one body in three dimensions, and writes its files.
export function Parts(): JSX.Element {
  const [x, setX] = useState<Solids | null>(null);
  const [list, setList] = useState<Notice[]>([]);
  const [name, setName] = useState("");
  const [done, setDone] = useState("");
  const version = book.value?.version ?? 0;
  const fail = (e: unknown): void => {
    if (e instanceof Fault) setList(e.list);
    else if (e instanceof Gone) gone.value = e.message;
    else if (!(e instanceof DOMException)) throw e;
  };
  useEffect(() => {
    const stop = new AbortController();
    const wait = setTimeout(() => {
      get<Solids>("/api/solids", stop.signal)
        .then((a) => {
          setX(a);
          setList([]);
        })
        .catch(fail);
    }, 250);
    return () => {
      clearTimeout(wait);
      stop.abort();
    };
  }, [version]);
  if (!x) return <Notices list={list} />;
  const shown = x.solids.some((s) => s.name === name) ? name : (x.solids[0]?.name ?? "");
  const write = async (): Promise<void> => {
    try {
      setDone((await post<{ written: string }>("/api/export", {})).written);
      setList([]);
    } catch (e) {
      fail(e);
    }
  };
  return (
    <>
      <Notices list={list} />
      {shown && (
        <>
          <p class="row">
            <span>Part:</span>
            {x.solids.map((s) => (
              <button type="button" key={s.name} class={`plain${s.name === shown ? " on" : ""}`} aria-pressed={s.name === shown} onClick={() => setName(s.name)}>
                {s.title}
              </button>
            ))}
          </p>
          <Body name={shown} title={x.solids.find((s) => s.name === shown)?.title ?? shown} version={version} />
        </>
      )}
      {x.solids.length > 0 && (
        <p>
          <button type="button" class="main" onClick={() => void write()}>
            Write these files
          </button>{" "}
          <span role="status">{done}</span>
        </p>
      )}
    </>
  );
}

// Body is one part, turned by hand or with the arrow keys, cut open with the slider.
function Body({ name, title, version }: { name: string; title: string; version: number }): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const model = useRef<Model | null>(null);
  const [ready, setReady] = useState(false);
  const [why, setWhy] = useState("");
  const [cut, setCut] = useState(0);
  const [along, setAlong] = useState(true);
  const cutAt = (share: number, way: boolean): void => {
    setCut(share);
    setAlong(way);
    model.current?.cut(share, way);
  };
  useEffect(() => {
    let over = false;
    let eye: ResizeObserver | undefined;
    import("./model")
      .then(({ Model }) => {
        if (over || !canvas.current) return;
        try {
          model.current = new Model(canvas.current);
        } catch {
          setWhy("This browser draws nothing in three dimensions here (no WebGL). The files are the same without the picture.");
          return;
        }
        eye = new ResizeObserver(() => model.current?.size());
        eye.observe(canvas.current);
        setReady(true);
      })
      .catch(() => setWhy("What draws in three dimensions could not be loaded; is jetwright serve still running?"));
    return () => {
      over = true;
      eye?.disconnect();
      model.current?.close();
      model.current = null;
    };
  }, []);
  useEffect(() => {
    if (!ready) return;
    const paint = (): void => {
      const s = getComputedStyle(document.documentElement);
      const c = (k: string): string => s.getPropertyValue(k).trim();
      model.current?.paint({ ground: c("--ground"), body: c("--clay"), line: c("--ink"), cut: c("--cut"), outline: c("--rust") });
    };
    paint();
    const dark = matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", paint);
    return () => dark.removeEventListener("change", paint);
  }, [ready, theme.value]);
  useEffect(() => {
    if (!ready) return;
    const stop = new AbortController();
    fetch(`/api/solid/${encodeURIComponent(name)}`, { signal: stop.signal })
      .then(async (r) => {
        if (!r.ok) throw new Error(await r.text());
        const stl = await r.arrayBuffer();
        model.current?.show(stl);
        canvas.current?.setAttribute("data-shown", `${name} ${version}`);
        setWhy("");
      })
      .catch((e: unknown) => {
        if (!(e instanceof DOMException)) setWhy(e instanceof Error ? e.message : "");
      });
    return () => stop.abort();
  }, [ready, name, version]);
  const m = (f: (m: Model) => void) => () => {
    if (model.current) f(model.current);
  };
  return (
    <figure class="body">
      <canvas
        ref={canvas}
        tabindex={0}
        role="img"
        aria-label={`${title} in three dimensions; the arrow keys turn it, plus and minus zoom, Home looks as at first`}
        onKeyDown={(e) => {
          const k: Record<string, (m: Model) => void> = {
            ArrowLeft: (m) => m.turn(-0.12, 0), ArrowRight: (m) => m.turn(0.12, 0), ArrowUp: (m) => m.turn(0, 0.12), ArrowDown: (m) => m.turn(0, -0.12),
            "+": (m) => m.zoom(1.2), "=": (m) => m.zoom(1.2), "-": (m) => m.zoom(1 / 1.2), Home: (m) => m.home(),
          };
          const f = k[e.key];
          if (!f || e.ctrlKey || e.metaKey || e.altKey) return;
          e.preventDefault();
          m(f)();
        }}
        onWheel={(e) => {
          if (!e.ctrlKey) return;
          e.preventDefault();
          model.current?.zoom(e.deltaY > 0 ? 1 / 1.15 : 1.15);
        }}
      />
      {why && <p role="status">{why}</p>}
      <figcaption class="row">
        <button type="button" class="plain" onClick={m((k) => k.zoom(1.3))}>
          Closer
        </button>
        <button type="button" class="plain" onClick={m((k) => k.zoom(1 / 1.3))}>
          Further
        </button>
        <button type="button" class="plain" onClick={m((k) => k.home())}>
          As at first
        </button>
        <label>
          Cut open{" "}
          <input
            type="range"
            min="0"
            max="1"
            step="0.01"
            value={cut}
            aria-valuetext={cut === 0 ? "not cut" : `${Math.round(100 * cut)} % taken away`}
            onInput={(e) => cutAt(Number(e.currentTarget.value), along)}
          />
        </label>
        <select aria-label="which way it is cut" value={along ? "along" : "across"} onChange={(e) => cutAt(cut || 0.5, e.currentTarget.value === "along")}>
          <option value="along">along the axis</option>
          <option value="across">across the axis</option>
        </select>
        <button type="button" class="plain" onClick={() => cutAt(0.5, along)}>
          Half
        </button>
      </figcaption>
    </figure>
  );
}
