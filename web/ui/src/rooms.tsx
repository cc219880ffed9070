import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Fault, get, Gone } from "./api";
import { answer, book, gone, units } from "./store";
import type { Fragment, Notice } from "./types";
import { Notices, Piece } from "./words";

// Room is a part of the page whose pieces are those of the report. It asks when it comes near the window, and
// again when the book has changed; what stood there stays, greyed, until the new is there. What is dear to show comes by seen,
// when the room is looked at for the first time.
export function Room({ name, title, lead, children, seen }: { name: string; title: string; lead: string; children?: JSX.Element; seen?: () => JSX.Element }): JSX.Element {
  const box = useRef<HTMLElement>(null);
  const [near, setNear] = useState(false);
  const [met, setMet] = useState(false); // it was looked at once
  const [pieces, setPieces] = useState<Fragment[]>([]);
  const [list, setList] = useState<Notice[]>([]);
  const [busy, setBusy] = useState(false);
  const version = book.value?.version ?? 0;
  const shownUnits = units.value;
  const asked = useRef(""); // of what the pieces are
  const inView = useRef(false);
  const waiting = useRef(false);
  // while the drive is not drawn the page is short, and every room would seem to be in the window
  const drawn = answer.value !== null;
  useEffect(() => {
    if (!box.current || !drawn) return;
    // a room that was looked at is worked out though the page moves on beneath it meanwhile
    const eye = new IntersectionObserver(
      (e) => {
        inView.current = e[e.length - 1]?.isIntersecting ?? false;
        if (inView.current) {
          setNear(true);
          setMet(true);
        } else if (asked.current !== "" && !waiting.current) setNear(false);
      },
      { rootMargin: "400px" },
    );
    const room = box.current;
    const later = setTimeout(() => eye.observe(room), 400);
    return () => {
      clearTimeout(later);
      eye.disconnect();
    };
  }, [drawn]);
  useEffect(() => {
    const wanted = `${version} ${shownUnits}`;
    if (!near || !book.value?.open || asked.current === wanted) return;
    let over = false;
    const stop = new AbortController();
    waiting.current = true;
    setBusy(true);
    // a hand that still moves is not asked behind
    const wait = setTimeout(async () => {
      try {
        const p = await get<Fragment[]>(`/api/room/${name}?units=${shownUnits}`, stop.signal);
        if (over) return;
        asked.current = wanted;
        setPieces(p);
        setList([]);
      } catch (e) {
        if (over) return;
        if (e instanceof Fault) setList(e.list);
        else if (e instanceof Gone) gone.value = e.message;
        else throw e;
      }
      waiting.current = false;
      setBusy(false);
      setNear(inView.current);
    }, 250);
    return () => {
      over = true;
      stop.abort(); // what nobody waits for is not worked out
      clearTimeout(wait);
    };
  }, [near, version, shownUnits]);
  return (
    <section class={`room${busy ? " busy" : ""}`} id={name} ref={box} aria-labelledby={`${name}-title`} aria-busy={busy}>
      <h2 id={`${name}-title`}>{title}</h2>
      <p class="lead">
        {lead}
        {busy && pieces.length > 0 && <span class="anew"> What stands below is being worked out anew.</span>}
      </p>
      {children}
      {met && seen?.()}
      <Notices list={list} />
      {busy && pieces.length === 0 && <p class="lead">Working it out …</p>}
      <div class="pieces">
        {pieces.map((p) => (
          <Piece key={p.id} piece={p} />
        ))}
      </div>
    </section>
  );
}

// Explanation is one number, whole, beside the page.
export function Explanation({ path, onClose }: { path: string; onClose: () => void }): JSX.Element {
  return <Aside title={path} from={`/api/explain?path=${encodeURIComponent(path)}&units=${units.value}`} onClose={onClose} />;
}

// Aside shows pieces beside the page until it is closed.
export function Aside({ title, from, onClose }: { title: string; from: string; onClose: () => void }): JSX.Element {
  const box = useRef<HTMLDialogElement>(null);
  const [pieces, setPieces] = useState<Fragment[]>([]);
  const [list, setList] = useState<Notice[]>([]);
  useEffect(() => {
    const d = box.current;
    if (d && !d.open) d.showModal();
    let over = false;
    setPieces([]);
    setList([]);
    get<Fragment[]>(from)
      .then((p) => !over && setPieces(p))
      .catch((e: unknown) => {
        if (over) return;
        if (e instanceof Fault) setList(e.list);
        else if (e instanceof Gone) gone.value = e.message;
      });
    return () => {
      over = true;
    };
  }, [from]);
  return (
    <dialog ref={box} class="explanation" aria-label={title} onClose={onClose} onClick={(e) => e.target === box.current && box.current?.close()}>
      <div class="inner">
        <header>
          <h2>{title}</h2>
          <button type="button" class="plain" onClick={() => box.current?.close()}>
            Close
          </button>
        </header>
        <Notices list={list} />
        {pieces.map((p) => (
          <Piece key={p.id} piece={{ ...p, title: p.title === title ? "" : p.title }} />
        ))}
      </div>
    </dialog>
  );
}
