// A table that folds into cards on a small screen: each cell carries the name of its column.
import type { ComponentChildren } from "preact";

interface Rows {
  caption: string;
  heads: string[];
  rows: ComponentChildren[][];
  quietCaption?: boolean;
}

export function Table({ caption, heads, rows, quietCaption }: Rows) {
  return (
    <table class="folding">
      <caption class={quietCaption ? "aloud" : ""}>{caption}</caption>
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((cells, n) => (
          <tr key={n}>
            {cells.map((cell, c) => (
              <td key={c} data-head={heads[c]}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
