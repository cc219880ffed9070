import type { JSX } from "preact";
import { answer, explained, limits, outdated } from "./store";
import { chosen } from "./store";
import { partOf, signs } from "./drawing";
import { Num, Save, Svg } from "./words";
import type { Figure, Limit } from "./types";

const shown: [string, string][] = [
  ["thrust", "thrust"], ["power at the battery", "battery_power"], ["power at the shaft", "shaft_power"], ["rotor speed", "rotor_speed"], ["flow", "jet.flow"],
  ["pump head", "jet.head"], ["jet velocity", "jet.jet_velocity"], ["static efficiency, battery", "static_efficiency"], ["propulsive efficiency", "propulsive_efficiency"],
  ["pump efficiency", "jet.pump_efficiency"], ["suction specific speed", "jet.suction_specific_speed"], ["phase current, rms", "motor.phase_current_rms"],
  ["battery current", "supply.battery_current"], ["battery voltage", "supply.battery_voltage"], ["winding, steady", "motor.winding_temperature"], ["bridge, steady", "heat.bridge_temperature"],
];

// Figures are the state in numbers.
export function Figures(): JSX.Element | null {
  if (!answer.value?.texts) return null;
  const d = answer.value?.differences ?? {};
  return (
    <section class="figures" aria-labelledby="figures-title">
      <h2 id="figures-title">The state in numbers</h2>
      <dl>
        {shown.map(([name, path]) => {
          const text = answer.value?.texts?.[path];
          return (
            text && (
              <div key={path}>
                <dt>{name}</dt>
                <dd>
                  <Num text={text} path={path} difference={d[path]} />
                </dd>
              </div>
            )
          );
        })}
      </dl>
    </section>
  );
}

// Ledger is every watt from the battery to the thrust.
export function Ledger(): JSX.Element | null {
  const a = answer.value;
  if (!a?.ledger || !limits.value) return null;
  const d = a.differences ?? {};
  return (
    <section class="ledger" aria-labelledby="watts-title">
      <h2 id="watts-title">Where every watt goes</h2>
      <Svg text={a.ledger} class="sheet" />
      <details>
        <summary>In numbers, with intervals</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">loss</th>
              <th scope="col">power</th>
              <th scope="col" class="right">
                share
              </th>
            </tr>
          </thead>
          <tbody>
            {limits.value.ledger.map((l) => (
              <tr key={l.path}>
                <th scope="row">{l.name}</th>
                <td>
                  <Num text={l.power_W.text} path={l.path} difference={d[l.path]} />
                </td>
                <td class="right">{l.share_text}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
      <Save svg={a.ledger} name="watts" />
    </section>
  );
}

const figureOf = (l: Limit, name: string): Figure | null => {
  for (const [k, v] of Object.entries(l)) {
    if ((k === name || k.startsWith(`${name}_`)) && typeof v === "object" && v !== null && "text" in v) return v as unknown as Figure;
  }
  return null;
};

// LimitList is every limit, nearest first; those not judged stand among the broken.
export function LimitList(): JSX.Element | null {
  const l = limits.value;
  if (!l) return null;
  // the list comes nearest first; what is far is folded
  const first = Math.max(6, l.limits.findLastIndex((x) => x.state === "broken" || x.state === "near") + 1);
  const rest = l.limits.slice(first);
  return (
    <section class={`limits${outdated.value ? " old" : ""}`} aria-labelledby="limits-title">
      <h2 id="limits-title">Limits, nearest first</h2>
      <ul>
        {l.limits.slice(0, first).map((x) => (
          <One key={x.name} limit={x} />
        ))}
      </ul>
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more, further away</summary>
          <ul>
            {rest.map((x) => (
              <One key={x.name} limit={x} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function One({ limit: x }: { limit: Limit }): JSX.Element {
  const value = figureOf(x, "value");
  const allowed = figureOf(x, "allowed");
  const moves = typeof x.moved_by === "string" ? x.moved_by : (x.moved_by ?? []).join(", ");
  return (
    <li class={x.state.replace(" ", "-")}>
      <details>
        <summary>
          <span class="sign" aria-hidden="true">
            {signs[x.state] || "·"}
          </span>
          <span class="state">{x.state}</span> <span class="name">{x.name}</span>
          <span class="left">{x.left}</span>
        </summary>
        {value && allowed && (
          <p data-limit={x.name} data-value={value.text} data-allowed={allowed.text}>
            {value.text}, allowed {allowed.text}
          </p>
        )}
        {x.not_judged && <p>{x.not_judged}</p>}
        <p>{x.why}</p>
        {moves && <p>It moves with {moves}.</p>}
        <p>
          <button type="button" class="plain" onClick={() => (chosen.value = partOf(x))}>
            Show the {partOf(x)}
          </button>
          {value && (
            <button type="button" class="plain" onClick={() => (explained.value = x.name)}>
              Explain
            </button>
          )}
        </p>
      </details>
    </li>
  );
}
