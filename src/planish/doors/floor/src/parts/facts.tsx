// Facts with their sources, and whether the source was read or is given from memory.
import type { FactShown } from "../api/client";
import { bare } from "./words";
import { to } from "../route";

export function FactLine({ of, linked = true }: { of: FactShown; linked?: boolean }) {
  return (
    <li class="fact">
      <p>
        {of.statement}
        {of.years && !of.statement.includes(of.years) && <span class="years"> ({of.years})</span>}
      </p>
      <p class="quiet">
        {of.source !== of.witness && <>{of.source} · </>}
        <em>{of.witness}</em>
        {linked && (
          <>
            {" · "}
            <a href={to("fact", of.id)}>the fact in full</a>
          </>
        )}
      </p>
    </li>
  );
}

export function FactLines({ of, linked }: { of: FactShown[]; linked?: boolean }) {
  if (!of.length) return null;
  return (
    <ul class="ruled">
      {of.map((one) => (
        <FactLine key={one.id} of={one} linked={linked} />
      ))}
    </ul>
  );
}

const WITNESS: Record<string, string> = { found: "source read", memory: "given from memory", derived: "computed", practice: "common practice, no source", "found, partly from memory": "source read, partly given from memory" };
const BRACKET = /\s*\[([^\[\];]+); ([^\[\]]*); (found|found, partly from memory|memory|derived|practice)\]/g;

/** A sentence as people read it; the facts it leans on stand below, each with its source and how it is vouched for. */
export function Sourced({ of, as: As = "p" }: { of: string; as?: "p" | "span" }) {
  const leans = [...of.matchAll(BRACKET)];
  const named = [...of.matchAll(/\(source: (.*?)\)(?=[.;,]|$)/g)];
  return (
    <>
      <As>{bare(of)}</As>
      {leans.map(([, id = "", source, witness = ""]) => (
        <p key={id} class="quiet source">
          Source: {source} · <em>{WITNESS[witness]}</em>
        </p>
      ))}
      {named.map(([, source]) => (
        <p key={source} class="quiet source">
          Source: {source}
        </p>
      ))}
    </>
  );
}
