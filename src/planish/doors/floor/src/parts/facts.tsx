// Facts with their sources, and whether the source was read or is given from memory.
import type { FactShown } from "../api/client";
import { to } from "../route";

export function FactLine({ of, linked = true }: { of: FactShown; linked?: boolean }) {
  return (
    <li class="fact">
      <p>
        {of.statement}
        {of.years && !of.statement.includes(of.years) && <span class="years"> ({of.years})</span>}
      </p>
      <p class="quiet">
        {of.source} · <em>{of.witness}</em>
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
