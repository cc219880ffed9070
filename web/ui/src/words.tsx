import type { JSX } from "preact";
import { useEffect, useId, useLayoutEffect, useRef } from "preact/hooks";
import { explained, fields } from "./store";
import type { Fragment, Notice } from "./types";

// Svg shows a picture of the pencil's. It escapes every text that it sets.
export function Svg({ text, class: name }: { text: string; class?: string }): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const b = box.current;
    if (!b) return;
    const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    if (parsed.nodeName === "svg") b.replaceChildren(document.importNode(parsed, true));
  }, [text]);
  return <div class={name} ref={box} />;
}

const word = /[a-z][a-z_]*(?:\.[a-z0-9_]+)+/g;

// ask lets every key that stands in the texts of a piece say what its number is.
function ask(b: HTMLElement): void {
  const texts: Text[] = [];
  const walk = document.createTreeWalker(b, NodeFilter.SHOW_TEXT);
  for (let n = walk.nextNode(); n; n = walk.nextNode()) if (!n.parentElement?.closest("svg, button")) texts.push(n as Text);
  for (const t of texts) {
    const parts: (string | Node)[] = [];
    let from = 0;
    for (const m of t.data.matchAll(word)) {
      if (!fields.peek().has(m[0])) continue;
      const e = document.createElement("button");
      e.type = "button";
      e.className = "num";
      e.dataset.path = m[0];
      e.textContent = m[0];
      e.setAttribute("aria-label", `explain ${m[0]}`);
      e.onclick = () => (explained.value = m[0]);
      parts.push(t.data.slice(from, m.index), e);
      from = m.index + m[0].length;
    }
    if (parts.length > 0) t.replaceWith(...parts, t.data.slice(from));
  }
}

// Piece shows a piece of the report; the server has escaped its texts, and the page's rules let no script in it run.
export function Piece({ piece }: { piece: Fragment }): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const id = useId(); // rooms number their pieces alike
  useEffect(() => {
    const b = box.current;
    if (!b) return;
    // what is wider than its room is reached with the keyboard too
    const reach = (): void => {
      for (const e of b.querySelectorAll<HTMLElement>(".scroll")) {
        if (e.scrollWidth > e.clientWidth) {
          e.tabIndex = 0;
          e.setAttribute("role", "group");
          e.setAttribute("aria-label", "wide table");
        } else e.removeAttribute("tabindex");
      }
    };
    const eye = new ResizeObserver(reach);
    eye.observe(b);
    return () => eye.disconnect();
  }, [piece.html]);
  useEffect(() => {
    if (box.current) ask(box.current);
  }, [piece.html]);
  useEffect(() => {
    for (const svg of box.current?.querySelectorAll<SVGSVGElement>("figure svg.pencil") ?? []) {
      const p = document.createElement("p");
      p.className = "save";
      p.append("Save this picture as ");
      for (const kind of ["svg", "png"] as const) {
        const b = document.createElement("button");
        b.type = "button";
        b.className = "plain";
        b.textContent = kind.toUpperCase();
        b.setAttribute("aria-label", `save ${svg.id} as ${b.textContent}`);
        b.onclick = () => savePicture(new XMLSerializer().serializeToString(svg), svg.id, kind);
        p.append(b, kind === "svg" ? " or " : "");
      }
      svg.closest("figure")?.append(p);
    }
  }, [piece.html]);
  return (
    <section class="piece" aria-labelledby={piece.title ? id : undefined}>
      {piece.title && <h3 id={id}>{piece.title}</h3>}
      <div ref={box} dangerouslySetInnerHTML={{ __html: piece.html }} />
    </section>
  );
}

// Num is a figure that says on demand where it comes from.
export function Num({ text, path, difference }: { text: string; path: string; difference?: string }): JSX.Element {
  return (
    <>
      <button type="button" class="num" data-path={path} aria-label={`${text}, explain ${path}`} onClick={() => (explained.value = path)}>
        {text}
      </button>
      {difference && <span class="difference">{difference}</span>}
    </>
  );
}

export function Notices({ list, onClose }: { list: Notice[]; onClose?: () => void }): JSX.Element | null {
  if (list.length === 0) return null;
  return (
    <div class="notices" role="alert">
      {list.map((n) => (
        <p key={n.what + (n.place ?? "")}>
          {n.place && <code>{n.place}</code>} <strong>{n.what}</strong>
          {n.allowed && <>. Allowed: {n.allowed}</>}
          {n.way_out && <>. {n.way_out}</>}
        </p>
      ))}
      {onClose && (
        <button type="button" class="plain" onClick={onClose}>
          Close
        </button>
      )}
    </div>
  );
}

// savePicture saves a drawing of the page as a file, as lines or as dots.
export function savePicture(svg: string, name: string, kind: "svg" | "png"): void {
  const lines = new Blob([svg], { type: "image/svg+xml" });
  const down = (b: Blob, end: string): void => {
    const a = document.createElement("a");
    a.href = URL.createObjectURL(b);
    a.download = `${name}.${end}`;
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 1000);
  };
  if (kind === "svg") {
    down(lines, "svg");
    return;
  }
  const img = new Image();
  img.onload = () => {
    const c = document.createElement("canvas");
    c.width = 2 * img.width;
    c.height = 2 * img.height;
    c.getContext("2d")?.drawImage(img, 0, 0, c.width, c.height);
    c.toBlob((b) => b && down(b, "png"));
    URL.revokeObjectURL(img.src);
  };
  img.src = URL.createObjectURL(lines);
}

export function Save({ svg, name }: { svg: string | undefined; name: string }): JSX.Element | null {
  if (!svg) return null;
  return (
    <p class="save">
      Save this picture as{" "}
      <button type="button" class="plain" onClick={() => savePicture(svg, name, "svg")} aria-label={`save ${name} as SVG`}>
        SVG
      </button>{" "}
      or{" "}
      <button type="button" class="plain" onClick={() => savePicture(svg, name, "png")} aria-label={`save ${name} as PNG`}>
        PNG
      </button>
    </p>
  );
}
