import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { answer, need, run, scenario, sources } from "./support.mjs";

const { default: Ajv } = need("ajv/dist/2020.js");

const schemaOf = (command) =>
  new Ajv({ strict: true, allErrors: true, strictTypes: false, strictRequired: false })
    .compile(JSON.parse(run([command, "--schema"])));
const faults = (schema, object) => (schema(object) ? [] : schema.errors.map((e) => `${e.instancePath} ${e.message}`));

const names = readdirSync(join(sources, "scenarios")).filter((name) => name.endsWith(".yaml"));

test("every scenario's answer fits the published schema", () => {
  const schema = schemaOf("run");
  for (const name of names) assert.deepEqual(faults(schema, answer(join(sources, "scenarios", name))), [], name);
});

test("answers that fail, trip, watch a monitor or have no engine fit it too", () => {
  const schema = schemaOf("run");
  for (const sets of [
    ["bank.capacity=60 Ah"],
    ["generator=none", "charger=none"],
    ["generator.continuous=900 W"],
    ["inverter.continuous=700 W"],
    ["bank.monitor.capacity=500 Ah"],
    ["generator.fuel.price=1.85 /L"],
  ]) {
    const words = sets.flatMap((set) => ["--set", set]);
    const object = JSON.parse(run(["run", "--json", ...words, scenario("bunk_trailer")]));
    assert.deepEqual(faults(schema, object), [], sets.join());
  }
});

test("start answers fit their schema", () => {
  const schema = schemaOf("start");
  for (const name of ["food_stall", "bunk_trailer", "survey_cabin"])
    assert.deepEqual(faults(schema, JSON.parse(run(["start", "--json", scenario(name)]))), [], name);
});

test("a schema sees a missing, a renamed and a mistyped field", () => {
  const schema = schemaOf("run");
  const good = JSON.stringify(answer(scenario("bunk_trailer")));
  for (const [change, where] of [
    [(o) => delete o.bank.lowest, "/bank"],
    [(o) => { o.verdict.level = "fine"; }, "/verdict/level"],
    [(o) => { o.hours[3].soc = "67 %"; }, "/hours/3/soc"],
    [(o) => { o.hours[3].soc = 67; }, "/hours/3/soc"],
    [(o) => { o.period.from = "5 Aug 15:00"; }, "/period/from"],
    [(o) => { o.energy_Wh.loads.fridge = null; }, "/energy_Wh/loads/fridge"],
    [(o) => { o.generator.runs[0].start = o.generator.runs[0].from; delete o.generator.runs[0].from; },
      "/generator/runs/0"],
  ]) {
    const object = JSON.parse(good);
    change(object);
    assert.ok(faults(schema, object).some((fault) => fault.startsWith(where)), where);
  }
});
