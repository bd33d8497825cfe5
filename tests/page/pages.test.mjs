// The pages of the studies: plan, start, compare, size, risk, fit.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";

import {
  answerAndPage, axeFaults, desktop, expectPlain, folder, need, open, phone, scenario, sources,
} from "./support.mjs";

const { chromium } = need("playwright-core");

const kinds = {
  plan: { words: ["plan"], file: "choir_camp", drawings: ["charge", "sources", "uses"] },
  "no plan": { words: ["plan"], file: "bunk_trailer", drawings: ["charge"] },
  start: { words: ["start"], file: "two_day_camp", drawings: ["start-0"] },
  compare: { words: ["compare"], file: "choir_camp", drawings: ["charges", "spare", "carried"] },
  size: { words: ["size"], file: "outfit_list", drawings: ["margin", "mass"] },
  risk: { words: ["risk", "--nights", "200"], file: "food_stall", drawings: ["lowest", "morning", "weights"] },
  fit: { words: ["fit"], file: "logged_night", rest: [join(sources, "scenarios", "logged_night.csv")],
    drawings: ["charge1", "power1", "gap"] },
};

let browser;
const made = {};

before(async () => {
  browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
  for (const [kind, { words, file, rest = [] }] of Object.entries(kinds))
    made[kind] = answerAndPage([...words, scenario(file), ...rest]);
});
after(() => browser.close());

const dataOf = async (page) => JSON.parse(await page.locator("#data").textContent());
const pictureOf = (data, id) => data.pictures.find((one) => one.id === id);
const close = (a, b, by, what) => assert.ok(Math.abs(a - b) <= by, `${what}: ${a}, ${b}`);

for (const kind of Object.keys(kinds))
  test(`${kind}: quiet, no requests, no sideways scroll, large text, nothing serious by axe`, async () => {
    for (const options of [
      { ...phone, colorScheme: "dark" },
      { ...phone, javaScriptEnabled: false },
      { ...desktop, colorScheme: "light" },
    ]) {
      const { page, context, said, asked } = await open(browser, made[kind].page, options);
      await expectPlain(page, said, asked);
      if (options.javaScriptEnabled === false) {
        for (const id of kinds[kind].drawings)
          assert.ok(await page.locator(`#${id} svg.narrow`).isVisible(), id);
        assert.ok(await page.getByRole("heading", { name: "Inputs" }).first().isVisible());
        assert.ok(await page.getByRole("heading", { name: "Cautions" }).isVisible());
      } else assert.deepEqual(await axeFaults(page), []);
      await context.close();
    }
  });

// No words of a picture lie outside its drawing.
test("words of drawings stay inside them, on a phone and on a desktop", async () => {
  for (const kind of Object.keys(kinds))
    for (const size of [phone, desktop]) {
      const { page, context } = await open(browser, made[kind].page, { ...size, javaScriptEnabled: false });
      const outside = await page.evaluate(() =>
        [...document.querySelectorAll(".drawn > svg text")].filter((text) => {
          if (!text.checkVisibility()) return false;
          const box = text.getBoundingClientRect(), all = text.closest("svg").getBoundingClientRect();
          return box.left < all.left - 1 || box.right > all.right + 1 || box.bottom > all.bottom + 1;
        }).map((text) => text.textContent));
      assert.deepEqual(outside, [], kind);
      await context.close();
    }
});

test("plan: sentence, curve and compared figures are those of the JSON answer", async () => {
  for (const kind of ["plan", "no plan"]) {
    const { json, page: file } = made[kind];
    const { page, context } = await open(browser, file, phone);
    assert.equal(await page.locator("#sentence").textContent(), json.sentence);
    const charge = pictureOf(await dataOf(page), "charge");
    close(Math.min(...charge.layers[0].values), 100 * json.plan.lowest, 1.0, "lowest");
    close(charge.layers[0].values.at(-1), 100 * json.plan.end, 0.01, "end");
    assert.equal(charge.stripes.find((one) => one.word === "engine").spans.length, json.plan.runs.length);
    await context.close();
  }
});

test("start: every case of the JSON answer stands in the table", async () => {
  const { json, page: file } = made.start;
  const { page, context } = await open(browser, file, phone);
  const words = { should_start: "should start", doubtful: "doubtful", expected_to_trip: "expected to trip" };
  assert.equal(await page.locator(".level").textContent(), words[json.verdict.level]);
  const rows = await page.locator("#start table tbody tr").evaluateAll(
    (all) => all.map((row) => row.cells[7].textContent));
  assert.deepEqual(rows.sort(), json.cases.map((one) => words[one.level]).sort());
  await context.close();
});

test("compare: bars and curves are those of the JSON answer", async () => {
  const { json, page: file } = made.compare;
  const { page, context } = await open(browser, file, phone);
  const data = await dataOf(page);
  const spare = data.rows.find((one) => one.id === "spare").rows;
  json.nights.forEach((one, i) => {
    close(1000 * spare[i].to, one.margin_Wh, 1, one.name);
    assert.equal(spare[i].name.includes("*"), one.non_dominated, one.name);
    const curve = pictureOf(data, "charges").layers[i].values;
    close(Math.min(...curve), 100 * one.lowest_soc, 1.5, one.name);
  });
  await context.close();
});

test("size: every set that is told is a point with its price and margin", async () => {
  const { json, page: file } = made.size;
  const { page, context } = await open(browser, file, phone);
  const { marks } = pictureOf(await dataOf(page), "margin");
  const has = (set) => marks.some((mark) => Math.abs(mark.at - set.price) < 0.01 &&
    Math.abs(1000 * mark.value - set.night.margin_Wh) < 1);
  for (const set of [json.best, ...json.trade_off, ...json.steps.filter((one) => !one.problem)])
    assert.ok(has(set), JSON.stringify(set.items));
  const best = marks.find((mark) => mark.word === "best");
  close(best.at, json.best.price, 0.01, "best");
  assert.ok(await page.locator("#margin details[open] table").isVisible());
  await context.close();
});

test("risk: bars are the shares of the drawn nights, weights those of the JSON answer", async () => {
  const { json, page: file } = made.risk;
  const { page, context } = await open(browser, file, phone);
  const data = await dataOf(page);
  const { values } = pictureOf(data, "lowest").layers[0];
  close(values.reduce((sum, value) => sum + value, 0), 100, 0.02, "all nights");
  json.lowest_soc_counts.forEach((count, i) =>
    close(values[i], (100 * count) / json.floor_holds.of, 0.001, `bin ${i}`));
  data.rows[0].rows.forEach((row, i) => {
    close(1000 * row.from, json.weights[i].margin_Wh_at_p5, 1, row.name);
    close(1000 * row.to, json.weights[i].margin_Wh_at_p95, 1, row.name);
  });
  await context.close();
});

test("fit: curves of log, plan and fit, and bars that lead from the plan to the log", async () => {
  const { json, page: file } = made.fit;
  const { page, context } = await open(browser, file, phone);
  const data = await dataOf(page);
  const night = json.nights[0];
  const bars = data.rows[0].rows;
  close(1000 * bars[0].to, night.planned_Wh, 1, "plan");
  close(1000 * bars.at(-1).to, night.logged_Wh, 1, "log");
  bars.slice(1, -1).reduce((end, bar) => {
    close(bar.from, end, 0.001, bar.name);
    return bar.to;
  }, bars[0].to);
  close(bars.at(-2).to, bars.at(-1).to, 0.01, "the parts lead to the log");
  const power = pictureOf(data, "power1");
  assert.deepEqual(power.layers.map((layer) => layer.name), ["log", "plan", "fit"]);
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const { logged_Wh, covered_s } = night;
  close(mean(power.layers[0].values.filter((value) => value !== null)), (3600 * logged_Wh) / covered_s,
    0.1 * (3600 * logged_Wh) / covered_s, "mean power");
  await context.close();
});

const printed = async (page, name) => {
  const pdf = join(folder, `${name}.pdf`);
  writeFileSync(pdf, await page.pdf({ format: "A4", preferCSSPageSize: false }));
  return execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" })
    .split("\f").map((sheet) => sheet.replace(/\s+/g, " "));
};

test("all print, drawings and text; the pocket card on one sheet of its own", async () => {
  for (const kind of Object.keys(kinds)) {
    const { page, context } = await open(browser, made[kind].page, desktop);
    const sentence = await page.locator("#sentence").textContent();
    const sheets = await printed(page, kind.replace(" ", "_"));
    const words = sheets.join(" ");
    assert.ok(words.includes(sentence.slice(0, 40)), kind);
    assert.ok(words.includes("Cautions"), kind);
    await page.emulateMedia({ media: "print" });
    for (const id of kinds[kind].drawings)
      assert.ok(await page.locator(`#${id} svg.wide`).isVisible(), `${kind} ${id}`);
    if (kind === "plan") {
      const card = sheets.find((sheet) => sheet.includes("Pocket card"));
      for (const part of ["Runs, crank to off", "For a controller", "If the engine does not start",
        "Settings card", "Carbon monoxide"])
        assert.ok(card.includes(part), part);
      assert.ok(!card.includes("Beside each other"));
    }
    await context.close();
  }
});

test("what a user wrote is text, never markup", async () => {
  const evil = `</title></script><script>alert("x")</script><img src=x onerror=alert(2)>`;
  for (const [kind, { words, file, rest = [] }] of Object.entries(kinds)) {
    if (kind === "no plan" || kind === "risk") continue;  // as plan; by the C++ tests
    const text = readFileSync(scenario(file), "utf8").replace(/^title:.*$/m, `title: '${evil}'`);
    assert.ok(text.includes(evil));
    const { page: html } = answerAndPage([...words, "-", ...rest], text);
    const { page, context, said, asked } = await open(browser, html, desktop);
    assert.deepEqual(said, []);
    assert.deepEqual(asked(), []);
    assert.equal(await page.locator("h1").textContent(), evil, kind);
    assert.equal(await page.locator("img").count(), 0);
    await context.close();
  }
});
