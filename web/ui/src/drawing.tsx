import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import { answer, chosen, drop, fields, focusOn, limits, nominal, settle, show, step, trial, trialText } from "./store";
import type { Handle, Limit, PartPlace } from "./types";
import { Svg } from "./words";

const order = ["broken", "not judged", "near", "clear"] as const;

// worst is the state of the limit of a part that is worst off, not judged before near.
export function worst(list: Limit[], part: string): Limit | undefined {
  return list.filter((l) => partOf(l) === part).sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state))[0];
}

// partOf is the part of the drawing that a limit is shown at.
export function partOf(l: Limit): string {
  if (l.part === "jet" || l.part === "pump" || l.part === "duct") return "impeller";
  if (l.part === "housing" || l.part === "flange") return "stator";
  if (l.part === "thermal" || l.part === "coolant") return "cooling";
  return l.part;
}

export const signs: Record<string, string> = { broken: "✕", near: "!", "not judged": "?", clear: "" };

// Drawing is the long section with what can be chosen and moved on it.
export function Drawing(): JSX.Element | null {
  const a = answer.value;
  if (!a?.section || !a.places) return null;
  const p = a.places;
  const list = limits.value?.limits ?? [];
  return (
    <div class="drawing">
      <div class="scale">
        <Svg text={a.section} class="sheet" />
        <svg class="over" viewBox={`0 0 ${p.width} ${p.height}`} aria-label="parts of the drive">
          {p.parts.map((k) => (
            <Part key={k.part} place={k} limit={worst(list, k.part)} />
          ))}
          {p.handles.map((h) => (
            <Grip key={h.path} handle={h} width={p.width} />
          ))}
        </svg>
      </div>
    </div>
  );
}

function Part({ place, limit }: { place: PartPlace; limit: Limit | undefined }): JSX.Element {
  const marked = limit && limit.state !== "clear";
  const name = `${place.name}${marked ? `, ${limit.state}: ${limit.name}` : ""}`;
  const choose = (): void => {
    chosen.value = place.part;
  };
  const x = Math.min(place.x + place.w - 6, 970);
  const y = Math.max(place.y + 8, 14);
  return (
    <g
      class={`part${chosen.value === place.part ? " chosen" : ""}`}
      role="button"
      tabindex={0}
      aria-label={name}
      aria-pressed={chosen.value === place.part}
      data-part={place.part}
      onClick={choose}
      onKeyDown={(e) => {
        if (e.key !== "Enter" && e.key !== " ") return;
        e.preventDefault();
        choose();
      }}
    >
      <title>{name}</title>
      <rect x={place.x} y={place.y} width={place.w} height={place.h} rx="3" />
      {marked && (
        <g class={`flag ${limit.state.replace(" ", "-")}`}>
          <path d={`M${x} ${y - 11}h20v14h-10l-10 7z`} />
          <text x={x + 10} y={y} text-anchor="middle">
            {signs[limit.state]}
          </text>
        </g>
      )}
    </g>
  );
}

// Grip moves a dimension: by dragging it, or with the arrow keys when it has the focus.
function Grip({ handle, width }: { handle: Handle; width: number }): JSX.Element {
  const from = useRef<{ x: number; y: number; scale: number } | null>(null);
  const f = fields.value.get(handle.path);
  const moving = trial.value?.path === handle.path;
  const text = moving && trialText.value ? trialText.value : (f?.text ?? "");
  const by = (e: PointerEvent): number => {
    const s = from.current;
    if (!s) return 0;
    return (handle.upright ? s.y - e.clientY : e.clientX - s.x) * s.scale * handle.per_pixel;
  };
  return (
    <g
      class={`grip${moving ? " moving" : ""}`}
      role="slider"
      tabindex={0}
      aria-label={handle.path}
      aria-valuetext={text}
      aria-valuenow={f ? nominal(f) : 0}
      aria-orientation={handle.upright ? "vertical" : "horizontal"}
      data-path={handle.path}
      onPointerDown={(e) => {
        e.preventDefault();
        const g = e.currentTarget as SVGGElement;
        const box = (g.ownerSVGElement as SVGSVGElement).getBoundingClientRect();
        from.current = { x: e.clientX, y: e.clientY, scale: width / box.width };
        g.setPointerCapture(e.pointerId);
        g.focus();
      }}
      onPointerMove={(e) => {
        if (!from.current) return;
        trial.value = { path: handle.path, by: by(e) };
        show();
      }}
      onPointerUp={(e) => {
        if (!from.current) return;
        const end = by(e);
        from.current = null;
        if (end === 0) drop();
        else void settle({ path: handle.path, by: end });
      }}
      onPointerCancel={() => {
        from.current = null;
        drop();
      }}
      onBlur={() => {
        if (!from.current && trial.value?.path === handle.path) void settle(trial.value);
      }}
      onKeyDown={(e) => {
        const n = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10 }[e.key];
        if (e.key === "Escape" && trial.value) {
          from.current = null;
          drop();
          return;
        }
        if (e.key === "Enter" && f) {
          e.preventDefault();
          if (trial.value) void settle(trial.value);
          focusOn(f);
          return;
        }
        if (n === undefined) return;
        e.preventDefault();
        step(handle.path, e.shiftKey ? 10 * n : n);
      }}
    >
      <title>{`${handle.path} ${text}: drag, or use the arrow keys`}</title>
      <circle cx={handle.x} cy={handle.y} r="9" class="reach" />
      <circle cx={handle.x} cy={handle.y} r="4.5" />
      {moving && (
        <text x={handle.x} y={handle.y - 14} text-anchor="middle">
          {text}
        </text>
      )}
    </g>
  );
}
