// Words beside words: what is the same, what is missing, what was added; and which qualifiers stand in them.

const split = (text) => text.split(/\s+/).filter(Boolean);

/** Runs [kind, words] with kind "same", "removed" (only in the sealed words) or "added" (only in what hangs). */
export function changes(sealed, hangs) {
  const [a, b] = [split(sealed), split(hangs)];
  const longest = Array.from({ length: a.length + 1 }, () => new Uint16Array(b.length + 1));
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      longest[i][j] = a[i] === b[j] ? longest[i + 1][j + 1] + 1 : Math.max(longest[i + 1][j], longest[i][j + 1]);
    }
  }
  const runs = [];
  const put = (kind, word) => {
    if (runs.length && runs.at(-1)[0] === kind) runs.at(-1)[1].push(word);
    else runs.push([kind, [word]]);
  };
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    if (i < a.length && j < b.length && a[i] === b[j]) { put("same", a[i]); i++; j++; }
    else if (i < a.length && (j === b.length || longest[i + 1][j] >= longest[i][j + 1])) put("removed", a[i++]);
    else put("added", b[j++]);
  }
  return runs.map(([kind, words]) => [kind, words.join(" ")]);
}

export const sameWords = (sealed, hangs) => split(sealed).join(" ") === split(hangs).join(" ");

/** The qualifiers of the fair that stand in the words, in their order, longest first where they overlap. */
export function qualifiers(words, definitions) {
  const found = [];
  let rest = words.toLowerCase().replace(/’/g, "'");
  for (const term of Object.keys(definitions).sort((a, b) => b.length - a.length)) {
    const at = rest.search(new RegExp(`(?<![\\p{L}'])${term.toLowerCase().replace(/[.*+?^${}()|[\]\\/]/g, "\\$&")}(?![\\p{L}'])`, "u"));
    if (at < 0) continue;
    found.push([at, term]);
    rest = rest.slice(0, at) + "\0".repeat(term.length) + rest.slice(at + term.length);
  }
  return found.sort((a, b) => a[0] - b[0]).map(([, term]) => [term, definitions[term]]);
}
