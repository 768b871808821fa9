// SPDX-License-Identifier: MIT
// solve.cjs SECONDS < models.json: each model of a JSON list by the exact solver of the npm package
// `minizinc`, one JSON line an answer: {"status", "objective"}. The package's solver is made for a page's
// worker; here it is given the few functions of a worker it uses. Exits 77 when it is not installed.
"use strict";
const fs = require("node:fs");
const path = require("node:path");
const vm = require("node:vm");

const MISSING = 77;
let dist;
try {
    dist = path.dirname(require.resolve("minizinc/minizinc-worker.js"));
} catch {
    console.error("minizinc is not installed: run `npm ci` in tests/oracle");
    process.exit(MISSING);
}
let deliver = () => {};
Object.assign(globalThis, {
    require,
    __dirname: dist,
    __filename: path.join(dist, "minizinc-worker.js"),
    onmessage: null,
    postMessage: (message) => deliver(message),
    addEventListener: (kind, handler) => {
        if (kind === "message") globalThis.onmessage = handler;
    },
});
vm.runInThisContext(fs.readFileSync(globalThis.__filename, "utf8"));

function ask(data, last) {
    return new Promise((resolve) => {
        const messages = [];
        deliver = (message) => {
            messages.push(message);
            if (message.type === last) resolve(messages);
        };
        globalThis.onmessage({ data });
    });
}

async function main() {
    const limit = String(Number(process.argv[2]) * 1000);
    const models = JSON.parse(fs.readFileSync(0, "utf8"));
    const files = { wasmURL: path.join(dist, "minizinc.wasm"), dataURL: path.join(dist, "minizinc.data") };
    await ask(files, "ready");
    for (const model of models) {
        const args = ["--solver", "chuffed", "-f", "--time-limit", limit, "--output-objective", "model.mzn"];
        const messages = await ask({ jsonStream: true, args, files: { "model.mzn": model } }, "exit");
        let status = "SATISFIED_OR_UNKNOWN", objective = null, found = "";
        for (const message of messages) {
            if (message.type === "status") status = message.status;
            if (message.type === "error") found = message.message;
            if (message.type !== "solution") continue;
            const match = /_objective = (-?\d+)/.exec(JSON.stringify(message.output));
            if (match) objective = Number(match[1]);
        }
        console.log(JSON.stringify({ status, objective, found }));
    }
}

main().then(() => process.exit(0));
