// My round: the stands in their order, and what is left on each.
import { Frame } from "../parts/frame";
import { plural } from "../parts/words";
import { to } from "../go";
import { docs, line, round, tablet, who } from "../state";
import { away, onStand, open } from "./standing";

export function RoundPage() {
  const stands = round.value.stands.filter((one) => onStand(one.id).length > 0);
  return (
    <Frame title="My round" small={<p class="quiet">{who.value?.name}{tablet.value.fair_name && `, ${tablet.value.fair_name}`}</p>}>
      {!stands.length && <Nothing />}
      <ul class="stands">
        {stands.map((one) => {
          const all = onStand(one.id);
          const left = all.filter((doc) => open(doc) && !away(doc)).length;
          const out = all.filter((doc) => open(doc) && away(doc)).length;
          const second = all.filter((doc) => doc.round === 2 && open(doc)).length;
          return (
            <li key={one.id}>
              <a class="stand-card" href={to("stand", one.id)}>
                <span class="giant"><span class="aloud">Stand </span>{one.number || one.id}</span>
                <span>
                  <strong>{left ? `${left} of ${all.length} left` : `all ${all.length} seen by you`}</strong>
                  {second > 0 && <span>{plural(second, "second look")}</span>}
                  {out > 0 && <span>{plural(out, "object")} locked or not found</span>}
                  <span class="quiet">{one.exhibitor}</span>
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </Frame>
  );
}

function Nothing() {
  if (tablet.value.n || docs.value.size) return <p>No object is on your round. The desk's panels and stand lists decide that.</p>;
  return <p role="status">{line.value === "away" ? "Your round is not on this tablet yet, and the desk does not answer. Go near its network." : "Fetching your round …"}</p>;
}
