// Walks through the live view in headless Chromium as a person would, and prints what it saw as JSON.
// Arguments: the address, Chromium, a folder for pictures of the screen, the spec, the server's pid.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { chromium } from "playwright-core";

const [, , address, program, folder, spec, server] = process.argv;
const seen = { errors: [], requests: [] };
const software = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
const browser = await chromium.launch({ executablePath: program, args: software });
const context = await browser.newContext({ viewport: { width: 1200, height: 700 }, reducedMotion: "reduce" });
const picture = (tab, name) => tab.screenshot({ path: join(folder, `live-${name}.png`) });
const told = (tab, what, number) =>
  tab.waitForFunction(([key, least]) => Number(document.body.dataset[key] ?? 0) >= least, [what, number], { timeout: 60000 });
const number = (tab, what) => tab.evaluate((key) => Number(document.body.dataset[key] ?? 0), what);
const field = (tab, name) => tab.getByLabel(name, { exact: true });

async function opened() {
  const tab = await context.newPage();
  tab.on("console", (message) => message.type() === "error" && seen.errors.push(message.text()));
  tab.on("pageerror", (error) => seen.errors.push(error.message));
  tab.on("request", (request) => request.url().startsWith(address) || seen.requests.push(request.url()));
  await tab.goto(address);
  await told(tab, "ordered", 1);
  return tab;
}

async function numbers(tab) {
  await picture(tab, "first");
  seen.title = await tab.title();
  const height = field(tab, "size.height");
  seen.height = await height.inputValue();
  const before = await number(tab, "shown");
  await height.fill("462.5");
  await height.press("Enter");
  await told(tab, "shown", before + 1);
  seen.moved = await tab.locator("#news .moved li").allTextContents();
  seen.size = await tab.locator(".title p").textContent();
  await picture(tab, "moved");
  await height.fill("wide");
  await height.press("Enter");
  seen.refused = await tab.locator(".refused:visible").textContent();
  await height.press("Escape");
  seen.again = await height.inputValue();
}

async function opensAndStays(tab) {
  await tab.getByRole("tab", { name: "Open and cut", exact: true }).click();
  await tab.getByRole("button", { name: "Open all", exact: true }).click();
  await tab.waitForFunction(() => casewright.movers.every((mover) => casewright.openness(mover.id) === 1));
  const camera = () => tab.evaluate(() => casewright.stage.camera.position.toArray().map(Math.round).join());
  await tab.evaluate(() => casewright.stage.turn(30, 10));
  const eye = await camera();
  const before = await number(tab, "shown");
  writeFileSync(spec, readFileSync(spec, "utf8").replace("462.5", "470"));
  await told(tab, "shown", before + 1);
  seen.staysOpen = await tab.evaluate(() => casewright.movers.every((mover) => casewright.openness(mover.id) === 1));
  seen.staysTurned = (await camera()) === eye;
  seen.followed = await field(tab, "size.height").inputValue();
}

async function mistakes(tab) {
  const text = readFileSync(spec, "utf8");
  const before = await number(tab, "looked");
  writeFileSync(spec, text.replace("units: mm", "units: furlong"));
  await told(tab, "looked", before + 1);
  seen.wrong = await tab.locator("#news .wrong").innerText();
  seen.lastGood = await tab.evaluate(() => casewright.model.copies.size);
  await picture(tab, "mistake");
  const name = "<script>globalThis.hit = 1</script><img src=x onerror=globalThis.hit=1>";
  writeFileSync(spec, text.replace(/name: .*/, `name: "${name}"`));
  await told(tab, "shown", before + 2);
  seen.name = [await tab.locator("h1").textContent(), name];
  seen.hit = await tab.evaluate(() => globalThis.hit ?? null);
  seen.wrongGone = await tab.locator("#news .wrong").isVisible();
  writeFileSync(spec, text);
  await told(tab, "shown", before + 3);
}

async function phone(tab) {
  await tab.emulateMedia({ colorScheme: "dark", reducedMotion: "reduce" });
  await tab.setViewportSize({ width: 390, height: 780 });
  await tab.getByRole("tab", { name: "Numbers", exact: true }).click();
  seen.wide = await tab.evaluate(() => document.documentElement.scrollWidth);
  await picture(tab, "phone-dark");
  await tab.emulateMedia({ colorScheme: "light", reducedMotion: "reduce" });
  await tab.setViewportSize({ width: 1200, height: 700 });
}

// A window that nobody sees lets its connection go, and is told what it missed when it is seen.
async function unseen(tab) {
  const see = (state) =>
    tab.evaluate((word) => {
      Object.defineProperty(document, "visibilityState", { value: word, configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    }, state);
  const before = await number(tab, "shown");
  await see("hidden");
  const other = await opened();
  writeFileSync(spec, `${readFileSync(spec, "utf8")}# unseen\n`);
  await told(other, "shown", before + 1);
  await other.close();
  seen.missed = (await number(tab, "shown")) - before;
  await see("visible");
  await told(tab, "shown", before + 1);
  seen.caughtUp = (await number(tab, "shown")) - before;
}

async function twoWindows(tab) {
  const other = await opened();
  const before = await number(tab, "shown");
  writeFileSync(spec, `${readFileSync(spec, "utf8")}# for two\n`);
  await Promise.all([told(tab, "shown", before + 1), told(other, "shown", before + 1)]);
  seen.both = [await number(tab, "shown"), await number(other, "shown")];
  await other.close();
}

async function drawings(tab) {
  await tab.getByRole("tab", { name: "Write", exact: true }).click();
  seen.choices = await tab.getByLabel("which sheet").locator("option").allTextContents();
  await picture(tab, "write");
  const [pages] = await Promise.all([context.waitForEvent("page"), tab.getByRole("link", { name: "Show them as pages" }).click()]);
  pages.on("console", (message) => message.type() === "error" && seen.errors.push(message.text()));
  await pages.waitForSelector("img[data-drawn]", { timeout: 60000 });
  seen.leaves = await pages.locator(".leaf").count();
  seen.paper = await pages.evaluate(() => document.querySelector("img[data-drawn]").naturalWidth > 100);
  await picture(pages, "drawings");
  await pages.close();
}

/** The events of a server of our own: one text, its picture, and the same put right. */
async function putRight() {
  const tab = await context.newPage();
  const event = (drawn) => `event: picture\ndata: {"number":1,"drawn":${drawn}}\n\n`;
  let asked = 0;
  let heard = 0;
  await tab.route("**/events", async (route) => {
    heard += 1;
    const shown = await tab.evaluate(() => document.body.dataset["shown"] !== undefined);
    await route.fulfill({ contentType: "text/event-stream", body: `retry: 200\n${event(shown ? 2 : 1)}` });
  });
  await tab.route("**/record", async (route) => {
    asked += 1;
    const answer = await route.fetch();
    const record = await answer.json();
    await route.fulfill({ json: { ...record, piece: `picture ${asked}` } });
  });
  await tab.goto(address);
  await tab.getByRole("heading", { name: "picture 2", exact: true }).waitFor();
  for (const enough = heard + 3; heard < enough; ) await new Promise((done) => setTimeout(done, 50));
  seen.putRight = asked;
  await tab.close();
}

function worker() {
  const tasks = readdirSync(`/proc/${server}/task`);
  return tasks.flatMap((task) => readFileSync(`/proc/${server}/task/${task}/children`, "utf8").split(" ")).filter(Boolean).map(Number);
}

async function killed(tab) {
  const text = tab.waitForFunction(() => {
    const line = document.querySelector("#news .kernel");
    return !line.hidden && line.textContent.includes("SIGKILL") && line.textContent;
  });
  for (const pid of worker()) process.kill(pid, "SIGKILL");
  seen.lost = await (await text).jsonValue();
  await tab.waitForFunction(() => document.querySelector("#news .kernel").hidden, null, { timeout: 60000 });
  const before = await number(tab, "shown");
  writeFileSync(spec, readFileSync(spec, "utf8").replace("470", "471"));
  await told(tab, "shown", before + 1);
  seen.afterLoss = await tab.locator(".title p").textContent();
}

const tab = await opened();
for (const part of [numbers, opensAndStays, mistakes, phone, twoWindows, unseen, drawings, putRight, killed]) await part(tab);
await browser.close();
console.log(JSON.stringify(seen));
