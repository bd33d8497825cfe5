import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";

import {
  answer, axeFaults, desktop, expectPlain, folder, need, open, pageOf, phone, scenario,
} from "./support.mjs";

const { chromium } = need("playwright-core");

let browser;
const files = {};

before(async () => {
  browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
  for (const name of ["bunk_trailer", "survey_cabin", "unknown_duty"])
    files[name] = pageOf(scenario(name));
});
after(() => browser.close());

for (const [name, where, size] of [
  ["bunk_trailer", "phone", phone],
  ["bunk_trailer", "desktop", desktop],
  ["survey_cabin", "small phone", { width: 320 }],
  ["unknown_duty", "phone", phone],
])
  test(`${name} on a ${where}: quiet, no requests, no sideways scroll, text large enough`, async () => {
    for (const javaScriptEnabled of [true, false]) {
      const { page, context, said, asked } =
        await open(browser, files[name], { ...size, javaScriptEnabled });
      await expectPlain(page, said, asked);
      await context.close();
    }
  });

test("without scripts every drawing, text and table is there", async () => {
  const { page, context } =
    await open(browser, files.bunk_trailer, { ...phone, javaScriptEnabled: false });
  for (const id of ["charge", "sources", "uses", "duty", "start-0"]) {
    assert.ok(await page.locator(`#${id} svg.narrow`).isVisible(), id);
    assert.ok(!(await page.locator(`#${id} svg.wide`).isVisible()), id);
  }
  assert.equal(await page.locator("canvas").count(), 0);
  for (const heading of ["By the hour", "Energy", "Generator", "What happens", "Settings card",
    "Fuel and shopping list", "Inputs", "Limits of the model", "Cautions"])
    assert.ok(await page.getByRole("heading", { name: heading, exact: true }).isVisible(), heading);
  await page.locator("#charge summary").click();
  assert.ok(await page.locator("#charge table").isVisible());
  await context.close();
});

test("values on the page are those of the JSON answer", async () => {
  for (const name of ["bunk_trailer", "survey_cabin"]) {
    const json = answer(scenario(name));
    const { page, context } = await open(browser, files[name], phone);
    assert.equal(await page.locator("#sentence").textContent(), json.verdict.sentence);
    assert.equal(await page.locator(".level").textContent(), json.verdict.level);
    const hours = await page.locator(".hours tbody tr:not(.day)").evaluateAll(
      (rows) => rows.map((row) => [...row.cells].map((cell) => cell.textContent)));
    assert.equal(hours.length, json.hours.length);
    hours.forEach((cells, i) => {
      assert.equal(cells[0], json.hours[i].from.slice(11, 16));
      assert.ok(Math.abs(Number(cells[8]) - 100 * json.hours[i].soc) <= 0.5001, `SoC of ${cells[0]}`);
      const mean_W = (60 * json.hours[i].air_conditioners_Wh) / json.hours[i].minutes;
      assert.ok(Math.abs(Number(cells[3]) - mean_W) <= 0.5001, `A/C of ${cells[0]}`);
    });
    // What the pictures draw adds up to the energies of the answer; each mean is told to 0.1 W.
    const data = JSON.parse(await page.locator("#data").textContent());
    const energy_Wh = (id, word) => {
      const picture = data.pictures.find((one) => one.id === id);
      const layer = picture.layers.find((one) => one.word === word);
      return layer ? layer.values.reduce((sum, value, i) =>
        sum + (value * (picture.edges[i + 1] - picture.edges[i])) / 3600, 0) : 0;
    };
    const close = (a, b, what) => assert.ok(Math.abs(a - b) < 2, `${what}: ${a}, ${b}`);
    close(energy_Wh("sources", "solar"), json.energy_Wh.solar, "solar");
    close(energy_Wh("sources", "generator"), json.energy_Wh.generator, "generator");
    close(energy_Wh("uses", "bank") - energy_Wh("sources", "bank"), json.energy_Wh.bank_change, "bank");
    const losses = Object.values(json.energy_Wh.losses).reduce((sum, loss) => sum + loss, 0);
    close(energy_Wh("uses", "losses"), losses, "losses");
    const charge = data.pictures[0].layers[0].values;
    assert.ok(Math.abs(charge.at(-1) - 100 * json.bank.end) < 0.001);
    assert.ok(Math.abs(data.pictures[0].marks[0].value - 100 * json.bank.lowest) < 0.001);
    await context.close();
  }
});

test("axe finds nothing serious, on a dark phone and a light desktop", async () => {
  for (const [size, colorScheme] of [[phone, "dark"], [desktop, "light"]]) {
    const { page, context } = await open(browser, files.survey_cabin, { ...size, colorScheme });
    assert.deepEqual(await axeFaults(page), []);
    await context.close();
  }
});

// WCAG 2.1, 1.4.11 (3 : 1 for parts of pictures) and 1.4.3 (4.5 : 1 for text); its definition of
// relative luminance.
test("colours stand out from the paper", async () => {
  const luminance = (rgb) => {
    const [r, g, b] = rgb.map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a, b) => {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (high + 0.05) / (low + 0.05);
  };
  assert.ok(Math.abs(contrast([255, 255, 255], [0, 0, 0]) - 21) < 1e-9);
  for (const colorScheme of ["light", "dark"]) {
    const { page, context } = await open(browser, files.bunk_trailer, { ...desktop, colorScheme });
    const colours = await page.evaluate(() => {
      const names = ["paper", "ink", "bank", "generator", "shore", "alternator", "solar", "unit", "loads", "losses"];
      const probe = document.createElement("i");
      document.body.append(probe);
      return Object.fromEntries(names.map((name) => {
        probe.style.color = getComputedStyle(document.documentElement).getPropertyValue(`--${name}`);
        return [name, getComputedStyle(probe).color.match(/\d+/g).map(Number)];
      }));
    });
    for (const [name, colour] of Object.entries(colours))
      if (name !== "paper")
        assert.ok(contrast(colour, colours.paper) >= (name === "ink" ? 4.5 : 3), `${colorScheme} ${name}`);
    await context.close();
  }
});

test("a tap reads all pictures at one instant, whatever the viewer's zone", async () => {
  const texts = [];
  for (const timezoneId of ["Asia/Tokyo", "America/Denver"]) {
    const { page, context } = await open(browser, files.bunk_trailer, { ...phone, timezoneId });
    const over = page.locator("#sources .u-over");
    await over.scrollIntoViewIfNeeded();
    const box = await over.boundingBox();
    await page.touchscreen.tap(box.x + box.width / 2, box.y + 60);
    const readings = await page.locator(".reading").allTextContents();
    assert.equal(readings.length, 4);
    // 15:00 to 10:00: the middle is 00:30.
    for (const reading of readings) assert.match(reading, /^6 Aug 00:(2|3)\d: /);
    texts.push(await page.locator("main").innerText());
    await context.close();
  }
  assert.equal(texts[0], texts[1]);
});

test("the slider reads by key, and a reading is the picture's value", async () => {
  const { page, context } = await open(browser, files.bunk_trailer, desktop);
  await page.locator(".controls input").focus();
  await page.keyboard.press("End");
  const data = JSON.parse(await page.locator("#data").textContent());
  const last = data.pictures[0].layers[0].values.at(-1).toFixed(1);
  assert.equal(await page.locator("#charge .reading").textContent(),
    `6 Aug 10:00: state of charge of the bank ${last} %`);
  await context.close();
});

async function touches(page, moves) {
  const client = await page.context().newCDPSession(page);
  const points = (list) => list.map(([x, y], id) => ({ x, y, id }));
  await client.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: points(moves[0]) });
  for (const move of moves.slice(1))
    await client.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: points(move) });
  await client.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

test("a pinch zooms all pictures together; a swipe up scrolls the page", async () => {
  const { page, context } = await open(browser, files.bunk_trailer, { ...phone, isMobile: true });
  const over = page.locator("#uses .u-over");
  await over.scrollIntoViewIfNeeded();
  const box = await over.boundingBox();
  const y = box.y + box.height / 2, middle = box.x + box.width / 2;
  const spread = [20, 40, 60, 80, 100].map((d) => [[middle - d, y], [middle + d, y]]);
  await touches(page, spread);
  const drawn = () => page.locator(".plot").evaluateAll((plots) => plots.map((plot) => plot.dataset.view));
  const views = await drawn();
  assert.equal(new Set(views).size, 1);
  const [from, to] = views[0].split(" ").map(Number);
  const period = 19 * 3600;
  assert.ok(to - from < 0.35 * period && to - from > 0.1 * period, views[0]);
  assert.ok(from < period / 2 && to > period / 2, views[0]);
  assert.equal(await page.evaluate(() => visualViewport.scale), 1);
  await page.getByRole("button", { name: "Whole period" }).click();
  assert.equal((await drawn())[0], `0 ${period}`);
  await over.scrollIntoViewIfNeeded();
  const before = await page.evaluate(() => scrollY);
  const again = await over.boundingBox();
  const x = again.x + 100, foot = again.y + again.height - 10;
  await touches(page, [0, 30, 60, 90, 120, 150].map((d) => [[x, foot - d]]));
  await page.waitForTimeout(300);
  assert.ok((await page.evaluate(() => scrollY)) > before + 50);
  await context.close();
});

test("prints on A4 and Letter, drawings and all text", async () => {
  const { page, context } = await open(browser, files.survey_cabin, desktop);
  const sentence = await page.locator("#sentence").textContent();
  for (const format of ["A4", "Letter"]) {
    const pdf = join(folder, `${format}.pdf`);
    writeFileSync(pdf, await page.pdf({ format, preferCSSPageSize: false }));
    const text = execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" });
    const words = text.replace(/\s+/g, " ");
    assert.ok(words.includes(sentence.slice(0, 40)), words.slice(0, 400));
    for (const part of ["State of charge", "floor 20 %", "too warm while", "By the hour", "Cautions"])
      assert.ok(words.includes(part), part);
  }
  await page.emulateMedia({ media: "print" });
  assert.ok(await page.locator("#charge svg.wide").isVisible());
  assert.ok(!(await page.locator("#charge .plot").isVisible()));
  assert.ok(!(await page.locator(".controls").isVisible()));
  await context.close();
});

test("what a user wrote is text, never markup", async () => {
  const evil = `</title></script><script>alert("x")</script><img src=x onerror=alert(2)>`;
  const text = readFileSync(scenario("unknown_duty"), "utf8")
    .replace(/^title:.*$/m, `title: '${evil}'`);
  assert.ok(text.includes(evil));
  const { page, context, said, asked } = await open(browser, pageOf("-", text), desktop);
  assert.deepEqual(said, []);
  assert.deepEqual(asked(), []);
  assert.equal(await page.locator("h1").textContent(), evil);
  assert.equal(await page.locator("img").count(), 0);
  await context.close();
});

test("the policy lets no other script run", async () => {
  const file = join(folder, "changed.html");
  writeFileSync(file, readFileSync(files.unknown_duty, "utf8")
    .replace("</main>", "<script>document.title = 'taken over'</script></main>"));
  const { page, context, said } = await open(browser, file, desktop);
  assert.notEqual(await page.title(), "taken over");
  assert.ok(said.some((line) => line.includes("Content Security Policy")), said.join());
  await context.close();
});
