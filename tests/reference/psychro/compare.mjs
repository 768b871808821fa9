// SPDX-License-Identifier: MIT
// compare.mjs EMBERWAIT: moist air as `emberwait calc` prints it against the npm package psychrolib,
// which other people wrote from the same handbook. Run `npm ci` here first; without the package (or
// with NODE_PATH pointing elsewhere) it says what is missing and exits 77. Closes with
// `N passed, N failed`; exits 1 when any failed.
import { spawnSync } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { createRequire } from "node:module";

const MISSING = 77;
const binary = process.argv[2];
if (!binary) {
    console.error("usage: node compare.mjs EMBERWAIT");
    process.exit(64);
}
try {
    accessSync(binary, constants.X_OK);
} catch {
    console.error(`${binary}: not a program that can be run`);
    process.exit(66);
}

let psychrolib;
try {
    psychrolib = createRequire(import.meta.url)("psychrolib");
} catch {
    console.error("psychrolib is not installed: run `npm ci` in tests/reference/psychro");
    process.exit(MISSING);
}
psychrolib.SetUnitSystem(psychrolib.SI);

let passed = 0;
let failed = 0;

/** One figure of ours; NaN, with what was said on stderr, when it was refused. */
function calc(quantity, keys) {
    const words = Object.entries(keys).map(([key, value]) => `${key}=${value}`);
    const run = spawnSync(binary, ["calc", quantity, ...words], { encoding: "utf8" });
    if (run.error) throw run.error;
    if (run.status !== 0) return { value: NaN, said: run.stderr.trim() };
    return { value: JSON.parse(run.stdout).value, said: "" };
}

/** Absolute slack plus slack relative to the figure wanted. */
function check(quantity, keys, wanted, absolute, relative) {
    const { value, said } = calc(quantity, keys);
    if (Math.abs(value - wanted) <= absolute + relative * Math.abs(wanted)) {
        passed += 1;
        return;
    }
    failed += 1;
    console.log(`${quantity} ${JSON.stringify(keys)}: theirs ${wanted}, ours ${value} ${said}`);
}

// The library stops its own searches at 0.001 degC and never goes under 1e-7 kg/kg.
const SEARCH_DEGC = 0.001;
const LEAST_RATIO = 1e-7;

for (let air = -100; air <= 200; air += 4) {
    check("saturation-pressure", { air_degc: air }, psychrolib.GetSatVapPres(air), 0, 1e-9);
}
for (let air = -40; air <= 50; air += 6) {
    for (const rh of [5, 25, 50, 78, 100]) {
        const keys = { air_degc: air, rh_pct: rh };
        check("vapour-pressure", keys, psychrolib.GetVapPresFromRelHum(air, rh / 100), 0, 1e-9);
        check("dew-point", keys, psychrolib.GetTDewPointFromRelHum(air, rh / 100),
              2 * SEARCH_DEGC, 0);
        for (const pressure of [101325, 84000]) {
            const full = { ...keys, pressure_pa: pressure };
            check("humidity-ratio", full,
                  psychrolib.GetHumRatioFromRelHum(air, rh / 100, pressure), LEAST_RATIO, 1e-9);
            check("wet-bulb", full, psychrolib.GetTWetBulbFromRelHum(air, rh / 100, pressure),
                  2 * SEARCH_DEGC, 0);
        }
    }
}
for (const [air, wet] of [[40, 20], [30, 25], [20, 10], [5, 1], [0, -2], [-5, -6]]) {
    check("humidity-ratio", { air_degc: air, wet_bulb_degc: wet },
          psychrolib.GetHumRatioFromTWetBulb(air, wet, 101325), LEAST_RATIO, 1e-9);
}

console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
