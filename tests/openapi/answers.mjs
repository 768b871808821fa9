// SPDX-License-Identifier: MIT
// answers.mjs DOCUMENT FOLDER FILE: each line of FILE is an answer {method, path, status, body} as JSON;
// each is held by ajv (JSON Schema 2020-12, formats checked) against what DOCUMENT says of it. FOLDER
// holds the schemas that DOCUMENT refers to. Closes with `N passed, N failed`.
import fs from "node:fs";
import path from "node:path";
import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";

const [documentFile, folder, answersFile] = process.argv.slice(2);
const document = JSON.parse(fs.readFileSync(documentFile, "utf8"));
const ajv = new Ajv2020({ allErrors: true, strict: false });
addFormats(ajv);
// One base for all of them, so that "json/record.schema.json#/$defs/id" leads from each to each.
const base = "https://emberwait.invalid/";
ajv.addSchema({ ...document, $id: base + "openapi.json" });
for (const name of fs.readdirSync(folder)) {
  const schema = JSON.parse(fs.readFileSync(path.join(folder, name), "utf8"));
  ajv.addSchema({ ...schema, $id: base + "json/" + name });
}

const escape = (part) => part.replaceAll("~", "~0").replaceAll("/", "~1");
const resolve = (node) => {
  while (node?.$ref?.startsWith("#/")) {
    node = node.$ref.slice(2).split("/").reduce((at, part) => at[part.replaceAll("~1", "/").replaceAll("~0", "~")], document);
  }
  return node;
};

// The validator of what a route answers with a status and a media type; undefined: not described.
const validators = new Map();
const validatorOf = ({ method, path: route, status, type }) => {
  const key = [method, route, status, type].join(" ");
  if (!validators.has(key)) {
    const response = document.paths[route]?.[method]?.responses?.[status];
    const where = response?.$ref ?? `#/paths/${escape(route)}/${method}/responses/${status}`;
    const described = resolve(response)?.content?.[type]?.schema !== undefined;
    validators.set(key, described ? ajv.compile({ $ref: `${base}openapi.json${where}/content/${escape(type)}/schema` }) : undefined);
  }
  return validators.get(key);
};

let passed = 0;
let failed = 0;
for (const line of fs.readFileSync(answersFile, "utf8").split("\n").filter(Boolean)) {
  const answer = JSON.parse(line);
  const validate = validatorOf(answer);
  if (validate === undefined) continue;
  if (validate(answer.body)) {
    passed++;
  } else {
    failed++;
    const fault = validate.errors[0];
    console.error(`failed: ${answer.method} ${answer.path}: ${answer.status}: ${fault.instancePath} ${fault.message}`);
  }
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);
