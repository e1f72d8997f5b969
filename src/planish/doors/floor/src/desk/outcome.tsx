// The outcome with the rule counted out. Who said what stands nowhere; the split only where the rules show it.
import type { CountShown, ObjectShown, SplitShown } from "../api/client";
import { Outcome, outcomeWord } from "../parts/mark";
import { Sourced } from "../parts/facts";
import { Table } from "../parts/table";
import { plain } from "../parts/words";

export function Answer({ of }: { of: ObjectShown }) {
  if (!of.answer && !of.outcome) return null;
  return (
    <section aria-labelledby="outcome">
      <h2 id="outcome">Outcome</h2>
      <p class="large">
        <Outcome of={of.outcome} />
      </p>
      <Lines of={of.reasons} />
      {of.clauses_of_outcome.length > 0 && <p class="quiet">Clauses {of.clauses_of_outcome.join(", ")}.</p>}
      {of.answer && of.answer.rule.length > 0 && (
        <details>
          <summary>The rule, counted out</summary>
          <Lines of={of.answer.rule} />
          <Lines of={of.answer.triggers} />
          {of.answer.answers.length > 0 && (
            <Table
              caption="What the panel found on each claim"
              heads={["Claim", "Found"]}
              rows={of.answer.answers.map((one) => [claimWords(of, one.claim), plain(one.answer)])}
            />
          )}
          {of.split && <Split of={of.split} claim={(key) => claimWords(of, key)} />}
        </details>
      )}
    </section>
  );
}

const claimWords = (of: ObjectShown, key: string) => of.claims.find((one) => one.key === key)?.words ?? key;

export function Trace({ of }: { of: CountShown }) {
  return (
    <>
      <Lines of={of.trace.length ? of.trace : of.answer.rule} />
      <Lines of={of.answer.triggers} />
      {of.split && <Split of={of.split} claim={(key) => key} />}
      {of.split_withheld && <p class="quiet">{of.split_withheld}</p>}
    </>
  );
}

function Lines({ of }: { of: string[] }) {
  if (!of.length) return null;
  return (
    <ul>
      {of.map((one) => (
        <li key={one}>
          <Sourced of={one} as="span" />
        </li>
      ))}
    </ul>
  );
}

function Split({ of, claim }: { of: SplitShown; claim: (key: string) => string }) {
  return (
    <>
      <p>
        Round {of.round}, without names:{" "}
        {Object.entries(of.outcomes)
          .map(([word, votes]) => `${outcomeWord(word) || plain(word)} ${votes}`)
          .join(" · ")}
      </p>
      {of.claims.length > 0 && (
        <Table
          caption="On each claim, without names"
          heads={["Claim", "Holds", "Does not hold", "Cannot say"]}
          rows={of.claims.map((one) => [claim(one.claim), one.holds, one.does_not_hold, one.cannot_say])}
        />
      )}
    </>
  );
}
