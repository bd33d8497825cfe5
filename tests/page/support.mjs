// What the tests share: the program, pages made by it, the browser.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
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
