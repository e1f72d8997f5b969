// Writes src/api/client.ts from ../web/openapi.json: one interface a schema, one typed function an operation.
// Run with `npm run client`; `--check` only says whether the file on disk is current.
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const source = process.env.PLANISH_OPENAPI ?? join(here, "../../web/openapi.json");
const target = join(here, "../src/api/client.ts");
const api = JSON.parse(readFileSync(source, "utf8"));
const nameOf = (ref) => ref.split("/").pop().replace(/[^A-Za-z0-9]/g, "");

function type(schema) {
  if (!schema || Object.keys(schema).length === 0) return "unknown";
  if (schema.$ref) return nameOf(schema.$ref);
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map((one) => JSON.stringify(one)).join(" | ");
  const many = schema.anyOf ?? schema.oneOf;
  if (many) return many.map(type).join(" | ");
  if (schema.prefixItems) return `[${schema.prefixItems.map(type).join(", ")}]`;
  if (schema.type === "array") return `(${type(schema.items)})[]`;
  if (schema.type === "object") return `Record<string, ${type(held(schema))}>`;
  if (schema.type === "integer" || schema.type === "number") return "number";
  return { string: "string", boolean: "boolean", null: "null" }[schema.type] ?? "unknown";
}

const held = (schema) => schema.additionalProperties || Object.values(schema.patternProperties ?? {})[0];
const quoted = (name) => (/^\w+$/.test(name) ? name : JSON.stringify(name));

// What is sent may leave out fields that have a default; what is answered always holds every field.
const given = new Set();
function follow(schema) {
  if (!schema || typeof schema !== "object") return;
  if (schema.$ref) {
    const name = schema.$ref.split("/").pop();
    if (!given.has(name)) {
      given.add(name);
      follow(api.components.schemas[name]);
    }
  }
  Object.values(schema).forEach(follow);
}
for (const methods of Object.values(api.paths)) for (const one of Object.values(methods)) follow(one.requestBody);

function shape(name, schema) {
  const needed = new Set(given.has(name) ? schema.required ?? [] : Object.keys(schema.properties ?? {}));
  const fields = Object.entries(schema.properties ?? {});
  return `{ ${fields.map(([n, s]) => `${quoted(n)}${needed.has(n) ? "" : "?"}: ${type(s)}`).join("; ")} }`;
}

function operation(path, method, one) {
  const params = (one.parameters ?? []).filter((p) => p.in !== "header" && p.in !== "cookie");
  const inPath = params.filter((p) => p.in === "path");
  const query = params.filter((p) => p.in === "query");
  const body = Object.entries(one.requestBody?.content ?? {})[0];
  const good = Object.entries(one.responses).find(([code]) => code.startsWith("2"))?.[1];
  const answer = type(good?.content?.["application/json"]?.schema);
  const args = [];
  if (params.length) {
    const all = params.map((p) => `${quoted(p.name)}${p.required ? "" : "?"}: ${type(p.schema)}`).join("; ");
    args.push(`at: { ${all} }${params.some((p) => p.required) ? "" : " = {}"}`);
  }
  if (body) args.push(`body: ${body[0] === "application/json" ? type(body[1].schema) : "Blob"}`);
  const address = path.replace(/\{(\w+)\}/g, (_, name) => `\${part(at.${name})}`);
  const asked = query.map((p) => `${quoted(p.name)}: at${/^\w+$/.test(p.name) ? `.${p.name}` : `[${JSON.stringify(p.name)}]`}`);
  const more = [asked.length ? `query: { ${asked.join(", ")} }` : "", body ? "body" : ""].filter(Boolean).join(", ");
  const unused = params.length && !inPath.length && !query.length;
  if (unused) throw new Error(`${path}: parameters of no kind`);
  return `  ${one.operationId}: (${args.join(", ")}) =>\n    call<${answer}>("${method.toUpperCase()}", \`${address}\`${more ? `, { ${more} }` : ""}),`;
}

const lines = ["// Made from the desk's openapi.json by scripts/make-client.mjs. Do not edit.", 'import { call, part } from "./call";', ""];
for (const [name, schema] of Object.entries(api.components.schemas)) {
  const plain = name.replace(/[^A-Za-z0-9]/g, "");
  lines.push(schema.properties || schema.type === "object" ? `export interface ${plain} ${shape(name, schema)}` : `export type ${plain} = ${type(schema)};`);
}
lines.push("", "export const api = {");
for (const [path, methods] of Object.entries(api.paths))
  for (const [method, one] of Object.entries(methods)) lines.push(operation(path, method, one));
lines.push("};", "");

const text = lines.join("\n");
if (process.argv.includes("--check")) {
  const current = readFileSync(target, "utf8") === text;
  if (!current) console.error("src/api/client.ts is not what openapi.json gives. Run `npm run client`.");
  process.exit(current ? 0 : 1);
}
writeFileSync(target, text);
