// SPDX-License-Identifier: MIT
// run.mjs EMBERWAIT [WORD]: every case of case_*.mjs, or those whose name holds WORD. A case is
// { name, quick, limit (s), run(exe) }; run by run.py, which looks for the browser first.
import { readdirSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { check, count, tidy } from "./lib.mjs";

const here = path.dirname(fileURLToPath(import.meta.url));
const [exe, word = ""] = process.argv.slice(2);
const quick = process.env.EMBERWAIT_QUICK === "1";
const LIMIT_S = 90;
const cases = [];

function late(seconds) {
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error(`not over after ${seconds} s`)), seconds * 1000).unref();
  });
}
for (const file of readdirSync(here).sort()) {
  if (/^case_\w+\.mjs$/.test(file)) cases.push(...(await import(`./${file}`)).default);
}
for (const one of cases.filter((other) => (!quick || other.quick) && other.name.includes(word))) {
  const begin = Date.now();
  const before = count().failed;
  try {
    await Promise.race([one.run(exe), late(one.limit ?? LIMIT_S)]);
  } catch (fault) {
    check(one.name, false, String(fault.stack ?? fault));
  }
  await tidy();
  console.log(`${count().failed === before ? "held" : "FAILED"}  ${((Date.now() - begin) / 1000).toFixed(1)} s  ${one.name}`);
}
const { passed, failed } = count();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed || !passed ? 1 : 0);
