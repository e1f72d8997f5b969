// What was found: objects, stands, people, clauses, facts.
import { api, type Hit } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { place, to } from "../route";

const AT: Record<Hit["kind"], (id: string) => string> = {
  object: (id) => to("object", id),
  stand: (id) => to("objects", "", { stand: id }),
  person: () => to("people"),
  fact: (id) => to("fact", id),
  clause: () => to("rules"),
};

export function SearchPage() {
  const q = place.value.asked.q ?? "";
  const found = useAsked(() => api.search({ q }), [q]);
  return (
    <>
      <h1>Found for “{q}”</h1>
      <Shown of={found}>
        {({ hits, more }) => (
          <>
            {!hits.length && <p>Nothing holds these words.</p>}
            <ul class="ruled">
              {hits.map((hit) => (
                <li key={`${hit.kind} ${hit.id}`}>
                  <p>
                    <span class="quiet">{hit.kind}</span> <a href={AT[hit.kind](hit.id)}>{hit.title}</a>
                  </p>
                  <p>{hit.words}</p>
                </li>
              ))}
            </ul>
            {more && <p>There is more; add a word.</p>}
          </>
        )}
      </Shown>
    </>
  );
}
