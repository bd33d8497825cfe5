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

// Of each command answers that hold, that fail, and that have parts which others lack.
const file = (name) => join(sources, "scenarios", name);
const weak = ["--set", "bank.capacity=60 Ah"];
const noEngine = ["--set", "generator=none", "--set", "charger=none"];
const notes = "21:00-23:00 on 70 min\n02:00 soc 61 %\n";
const asked = {
  run: [[scenario("bunk_trailer")], [...weak, scenario("bunk_trailer")], [...noEngine, scenario("bunk_trailer")],
    ["--set", "generator.continuous=900 W", scenario("bunk_trailer")],
    ["--set", "inverter.continuous=700 W", scenario("bunk_trailer")],
    ["--set", "bank.monitor.capacity=500 Ah", scenario("bunk_trailer")],
    ["--set", "generator.fuel.price=1.85 /L", scenario("bunk_trailer")], [scenario("unknown_duty")]],
  start: [[scenario("food_stall")], [scenario("bunk_trailer")], [scenario("survey_cabin")],
    ["--set", "generator.continuous=900 W", scenario("bunk_trailer")]],
  plan: [[scenario("bunk_trailer")], [...weak, scenario("bunk_trailer")],
    ["--set", "plan.aim=late_start", "--holds-in", "80 %", scenario("bunk_trailer")],
    [scenario("bee_trailer")]],
  compare: [[scenario("bunk_trailer"), scenario("survey_van"), scenario("food_stall")],
    [...weak, scenario("bunk_trailer"), scenario("unknown_duty")], [scenario("choir_camp")]],
  size: [[scenario("outfit_list")], ["--set", "sizing.most_money=100", scenario("outfit_list")]],
  risk: [["--nights", "60", scenario("bunk_trailer")],
    ["--nights", "64", "--even", ...noEngine, scenario("bunk_trailer")],
    ["--nights", "60", ...weak, scenario("unknown_duty")]],
  fit: [[scenario("logged_night"), file("logged_night.csv")], [scenario("logged_night"), "-"],
    ["--set", "inverter.idle=60 W", scenario("logged_night"), file("logged_night.csv")]],
};

/// Each object within an answer that has a place of its own in the schema: of a list the first.
function* objectsIn(value, at = "") {
  if (value === null || typeof value !== "object") return;
  if (Array.isArray(value)) return yield* objectsIn(value[0], `${at}/0`);
  yield [at, value];
  for (const key of Object.keys(value)) yield* objectsIn(value[key], `${at}/${key}`);
}

// Fields that not every answer has, and objects whose keys are names.
const optional = new Set(["words", "start_margin_at_p5", "start_margin_at_p95"]);
const named = (at) => ["/items", "/loads", "/arrays"].some((name) => at.endsWith(name));

for (const [command, all] of Object.entries(asked)) {
  test(`answers of ${command} fit their schema`, () => {
    const schema = schemaOf(command);
    for (const words of all) {
      const object = JSON.parse(run([command, "--json", ...words], notes));
      assert.deepEqual(faults(schema, object), [], words.join(" "));
    }
  });

  test(`the schema of ${command} sees any field that lacks, is new or is of another type`, () => {
    const schema = schemaOf(command);
    const good = JSON.parse(run([command, "--json", ...all[0]], notes));
    let seen = 0;
    for (const [at, object] of objectsIn(good)) {
      if (named(at)) continue;
      const refused = (what) => {
        assert.ok(!schema(good), `${at}: ${what}`);
        ++seen;
      };
      object.not_a_field = 1;
      refused("one more");
      delete object.not_a_field;
      for (const key of Object.keys(object)) {
        const was = object[key];
        object[key] = typeof was === "boolean" ? "yes" : true;
        refused(`${key} is ${object[key]}`);
        delete object[key];
        if (!optional.has(key)) refused(`${key} lacks`);
        object[key] = was;
      }
    }
    assert.ok(seen > 20, `${seen}`);
    assert.deepEqual(faults(schema, good), []);
  });
}

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
