// What the tests share: the program, pages made by it, the browser.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";

// The packages lie in the build, not beside this file.
export const need = createRequire(join(process.env.NIGHTBANK_PAGE_MODULES, "package.json"));
export const sources = process.env.NIGHTBANK_SOURCE_DIR;
export const scenario = (name) => join(sources, "scenarios", `${name}.yaml`);

export const folder = mkdtempSync(join(tmpdir(), "nightbank-page-"));
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));

export function run(words, input = "") {
  return execFileSync(process.env.NIGHTBANK_PROGRAM, words, {
    input, encoding: "utf8", maxBuffer: 1 << 26,
  });
}

export const answer = (file, input) => JSON.parse(run(["run", "--json", file], input));

let pages = 0;
export function pageOf(file, input) {
  const output = join(folder, `page${++pages}.html`);
  run(["page", file, "-o", output], input);
  return output;
}

// The answer of a command for programs and, by the same run, its page.
export function answerAndPage(words, input) {
  const page = join(folder, `page${++pages}.html`);
  return { page, json: JSON.parse(run([...words, "--json", "--page", page], input)) };
}

export const phone = { width: 390 }, desktop = { width: 1280, height: 900 };

// The smallest text that is shown, in pixels as they are shown.
const smallestText = () => {
  let smallest = Infinity, which = "";
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || element.closest("script, style, title, desc, caption")) continue;
    if (!element.checkVisibility()) continue;
    const svg = element.closest("svg");
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const size = parseFloat(getComputedStyle(element).fontSize) * scale;
    if (size < smallest) [smallest, which] = [size, node.data];
  }
  return { smallest, which };
};

// Nothing said to the console, nothing asked of anybody, no sideways scroll, text large enough.
export async function expectPlain(page, said, asked) {
  assert.deepEqual(said, []);
  assert.deepEqual(asked(), []);
  const [scroll, client] = await page.evaluate(
    () => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  assert.equal(scroll, client);
  const { smallest, which } = await page.evaluate(smallestText);
  assert.ok(smallest >= 15.99, `${smallest} px: ${which}`);
}

// What axe calls serious or critical; colours must have been looked at.
const axe = readFileSync(need.resolve("axe-core/axe.min.js"), "utf8");
export async function axeFaults(page) {
  await page.evaluate(axe);
  const { violations, passes } = await page.evaluate(() => window.axe.run());
  const grave = violations.filter((one) => ["serious", "critical"].includes(one.impact));
  const faults = grave.map((one) => `${one.id}: ${one.nodes[0].html}`);
  return passes.some((one) => one.id === "color-contrast") ? faults : [...faults, "no colours seen"];
}

// Opens a page and keeps what it says and asks for.
export async function open(browser, file, { width, height = 844, ...options }) {
  const context = await browser.newContext({
    viewport: { width, height }, hasTouch: width < 600, isMobile: false, ...options,
  });
  const page = await context.newPage();
  const said = [], asked = [];
  page.on("console", (message) => said.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => said.push(`error: ${error.message}`));
  page.on("dialog", (dialog) => { said.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  page.on("request", (request) => asked.push(request.url()));
  await page.goto(`file://${file}`);
  return { page, context, said, asked: () => asked.filter((url) => url !== `file://${file}`) };
}
