// SPDX-License-Identifier: MIT
// lint.mjs DOCUMENT FOLDER: the description of the HTTP API is OpenAPI 3.1 (judged by a package that is not
// ours), and beyond that tidy: what a reader of it trips over is a fault. FOLDER holds the schemas it
// refers to. Closes with `N passed, N failed`.
import fs from "node:fs";
import path from "node:path";
import { Validator } from "@seriousme/openapi-schema-validator";

const document = JSON.parse(fs.readFileSync(process.argv[2], "utf8"));
let passed = 0;
let failed = 0;
const check = (name, good, detail = "") => {
  if (good) {
    passed++;
  } else {
    failed++;
    console.error(`failed: ${name}: ${String(detail).slice(0, 600)}`);
  }
};

// One document of all: "json/record.schema.json#/$defs/id" becomes a component's part.
const bundle = (node, file) => {
  if (Array.isArray(node)) return node.map((item) => bundle(item, file));
  if (node === null || typeof node !== "object") return node;
  const out = Object.fromEntries(Object.entries(node).filter(([key]) => key !== "$id").map(([key, value]) => [key, bundle(value, file)]));
  if (typeof node.$ref === "string") {
    const [where, pointer = ""] = node.$ref.split("#");
    const target = path.basename(where) || file;
    out.$ref = target === "" ? `#${pointer}` : `#/components/schemas/${target}${pointer}`;
  }
  return out;
};
const whole = bundle(document, "");
for (const name of fs.readdirSync(process.argv[3])) {
  whole.components.schemas[name] = bundle(JSON.parse(fs.readFileSync(path.join(process.argv[3], name), "utf8")), name);
}
const validator = new Validator();
const judged = await validator.validate(whole);
check("it is OpenAPI 3.1", judged.valid && validator.version === "3.1", JSON.stringify(judged.errors));

const operations = Object.entries(document.paths).flatMap(([route, item]) =>
  Object.entries(item).map(([method, operation]) => ({ path: route, method, operation, name: `${method} ${route}` })));
const resolve = (node) => {
  while (node?.$ref?.startsWith("#/")) node = node.$ref.slice(2).split("/").reduce((at, part) => at?.[part], document);
  return node;
};

const ids = operations.map(({ operation }) => operation.operationId);
check("each operation has an id of its own", new Set(ids).size === ids.length && ids.every((id) => /^[a-z][a-z0-9-]*$/.test(id)),
  ids.filter((id, i) => ids.indexOf(id) !== i));
const tags = new Set(document.tags.map((tag) => tag.name));
const schemes = new Set(Object.keys(document.components.securitySchemes));
const used = new Set();
for (const { path: route, method, operation, name } of operations) {
  check(`${name}: a summary without a full stop`, operation.summary && !operation.summary.endsWith("."), operation.summary);
  check(`${name}: a tag that is listed`, operation.tags?.length === 1 && tags.has(operation.tags[0]), operation.tags);
  used.add(operation.tags?.[0]);
  const wanted = [...route.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort();
  const parameters = (operation.parameters ?? []).map(resolve);
  const given = parameters.filter((p) => p?.in === "path").map((p) => p.name).sort();
  check(`${name}: the parameters of its path`, wanted.join() === given.join(), given);
  check(`${name}: parameters with a sentence and a schema`, parameters.every((p) => p?.description && p.schema));
  check(`${name}: none twice`, new Set(parameters.map((p) => p.in + p.name)).size === parameters.length);
  const answers = Object.entries(operation.responses);
  check(`${name}: something that works, something that does not`, answers.some(([s]) => s < "400") && answers.some(([s]) => s >= "400"));
  check(`${name}: each answer has a sentence`, answers.every(([, r]) => resolve(r)?.description));
  check(`${name}: who may is a scheme that is there`, Array.isArray(operation.security) &&
    operation.security.every((one) => Object.keys(one).every((scheme) => schemes.has(scheme))), JSON.stringify(operation.security));
  check(`${name}: a read has no body`, method !== "get" || operation.requestBody === undefined);
}
check("no tag is listed in vain", [...tags].every((tag) => used.has(tag)), [...tags].filter((tag) => !used.has(tag)));

// References lead somewhere, and what can be referred to is.
const text = JSON.stringify(document);
const references = new Set([...text.matchAll(/"\$ref":"#\/([^"]+)"/g)].map((m) => m[1]));
for (const reference of references) check(`#/${reference} is there`, resolve({ $ref: `#/${reference}` }) !== undefined);
for (const [kind, items] of Object.entries(document.components)) {
  if (kind === "securitySchemes") continue;
  for (const name of Object.keys(items)) check(`components/${kind}/${name} is used`, references.has(`components/${kind}/${name}`));
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
