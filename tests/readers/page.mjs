// Walks through a page in headless Chromium as a person would, and prints what it saw as JSON.
// Arguments: the page, Chromium, a folder for pictures of the screen.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [, , page, program, folder] = process.argv;
const seen = { errors: [], requests: [] };

async function opened(arguments_, options = {}) {
  const browser = await chromium.launch({ executablePath: program, args: ["--no-sandbox", ...arguments_] });
  const tab = await browser.newPage({ viewport: { width: 1200, height: 700 }, reducedMotion: "reduce", ...options });
  tab.on("console", (message) => message.type() === "error" && seen.errors.push(message.text()));
  tab.on("pageerror", (error) => seen.errors.push(error.message));
  tab.on("request", (request) => /^(file|blob|data):/.test(request.url()) || seen.requests.push(request.url()));
  const start = Date.now();
  await tab.goto(pathToFileURL(page).href);
  await tab.waitForSelector("body[data-ready]", { timeout: 60000 });
  return { browser, tab, took: Date.now() - start };
}

const software = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
const picture = (tab, name) => tab.screenshot({ path: join(folder, `${name}.png`) });
const settled = (tab) => tab.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

// Where a point of the piece (mm) is on the screen.
async function place(tab, [x, y, z]) {
  await settled(tab);
  return tab.evaluate(([a, b, c]) => {
    const { stage } = casewright;
    const at = stage.at(stage.controls.target.clone().set(a, b, c));
    const box = stage.place.getBoundingClientRect();
    return { x: box.left + at.x, y: box.top + at.y };
  }, [x, y, z]);
}

async function click(tab, at) {
  const { x, y } = await place(tab, at);
  await tab.mouse.click(x, y);
  await settled(tab);
}

const shown = (tab) => tab.evaluate(() => [...casewright.model.copies.values()].filter((copy) => copy.node.visible).length);
const setSlider = (tab, name, value) => tab.getByRole("slider", { name, exact: true }).fill(String(value));

async function walk(tab) {
  seen.state = await tab.evaluate(() => document.body.dataset.ready);
  seen.title = await tab.title();
  seen.heading = await tab.locator("h1").textContent();
  seen.hit = await tab.evaluate(() => globalThis.hit ?? null);
  seen.sizes = await tab.locator(".sizes text").allTextContents();
  await picture(tab, "closed");

  await tab.getByRole("button", { name: "Openings", exact: true }).click();
  await settled(tab);
  seen.openings = await tab.locator(".sizes text.opening").allTextContents();
  await tab.getByRole("button", { name: "Openings", exact: true }).click();

  await tab.getByRole("button", { name: "Front", exact: true }).click();
  await click(tab, [840, 0, 560]);
  seen.card = await tab.locator(".card").innerText();
  await click(tab, [840, 0, 560]);
  await tab.waitForFunction(() => casewright.openness("drawer 2/1") === 1);
  seen.slider = await tab.getByRole("slider", { name: "drawer 2/1", exact: true }).inputValue();
  await tab.getByRole("button", { name: "Open all", exact: true }).click();
  await tab.getByRole("button", { name: "Corner", exact: true }).click();
  await tab.waitForFunction(() => casewright.movers.every((mover) => casewright.openness(mover.id) === 1));
  await picture(tab, "open");
  await tab.getByRole("button", { name: "Close all", exact: true }).click();

  const all = await shown(tab);
  await tab.getByRole("button", { name: "Only this", exact: true }).click();
  seen.isolated = await shown(tab);
  await tab.locator(".card").getByRole("button", { name: "Show all", exact: true }).click();
  seen.again = (await shown(tab)) === all;
  await tab.keyboard.press("Escape");
}

async function measure(tab) {
  await tab.evaluate(() => casewright.hide(casewright.record.copies.filter((copy) => copy.group[0] === "drawers").map((copy) => copy.id)));
  await tab.getByRole("button", { name: "Front", exact: true }).click();
  await tab.getByRole("button", { name: "Measure", exact: true }).click();
  await click(tab, [580, 130, 420]);
  await click(tab, [1100, 130, 420]);
  seen.measured = await tab.locator(".tape").innerText();
  await picture(tab, "measured");
  await tab.getByRole("button", { name: "Measure", exact: true }).click();
  await tab.evaluate(() => casewright.showAll());
}

async function apartAndCut(tab) {
  await tab.getByRole("button", { name: "Corner", exact: true }).click();
  await setSlider(tab, "Apart", 1);
  await settled(tab);
  seen.moved = await tab.evaluate(() => [...casewright.model.copies.values()].filter((copy) => copy.node.matrix.elements.some((value, at) => Math.abs(value - copy.home.elements[at]) > 1)).length);
  seen.outside = await tab.evaluate(() => {
    const { stage, model } = casewright;
    const corner = stage.controls.target.clone();
    const { clientWidth: width, clientHeight: height } = stage.place;
    return [...model.copies.values()].flatMap(({ record, body, node }) => {
      const { min, max } = body.geometry.boundingBox;
      const spots = [0, 1, 2, 3, 4, 5, 6, 7].map((n) => stage.at(corner.set(n & 1 ? max.x : min.x, n & 2 ? max.y : min.y, n & 4 ? max.z : min.z).applyMatrix4(node.matrix)));
      return spots.every(({ x, y }) => x >= 0 && x <= width && y >= 0 && y <= height) ? [] : [record.id];
    });
  });
  await picture(tab, "apart");
  await setSlider(tab, "Apart", 0);
  await tab.getByRole("combobox", { name: "which way the cut comes" }).selectOption("y");
  await setSlider(tab, "Cut", 0.5);
  await settled(tab);
  // what the cut fills of the left divider: its height by its thickness (mm2)
  seen.filled = await tab.evaluate(() => {
    const id = casewright.record.copies.find((copy) => casewright.title(copy.id).includes("divider left")).id;
    let total = 0;
    casewright.stage.scene.traverse((thing) => {
      if (!thing.isMesh || thing.userData.copy !== id) return;
      const p = thing.geometry.attributes.position;
      for (let at = 0; at < p.count; at += 3) {
        const [a, b, c] = [0, 1, 2].map((next) => casewright.stage.controls.target.clone().fromBufferAttribute(p, at + next));
        total += b.sub(a).cross(c.sub(a)).length() / 2;
      }
    });
    return total;
  });
  await picture(tab, "cut");
  await setSlider(tab, "Cut", 0);
}

async function tree(tab) {
  await tab.getByRole("tab", { name: "Parts", exact: true }).click();
  const first = tab.getByRole("treeitem").first();
  await first.focus();
  const keys = ["ArrowRight", "ArrowDown", "Enter"];
  for (const key of keys) await tab.keyboard.press(key);
  seen.focused = await tab.evaluate(() => document.activeElement.getAttribute("aria-label"));
  seen.selected = await tab.evaluate(() => casewright.title(casewright.selected));
  const before = await shown(tab);
  await tab.keyboard.press("h");
  seen.hiddenByKey = before - (await shown(tab));
  await tab.keyboard.press("a");
  await tab.keyboard.press("ArrowLeft");
  seen.parent = await tab.evaluate(() => document.activeElement.getAttribute("aria-expanded"));
  await tab.getByRole("tab", { name: "Findings", exact: true }).click();
  seen.findings = await tab.locator(".findings li").count();
  seen.pins = await tab.locator(".pin:visible").count();
  await tab.getByRole("tab", { name: "Steps", exact: true }).click();
  await tab.getByRole("button", { name: "Next", exact: true }).click();
  seen.step = await tab.evaluate(() => casewright.model.step?.order);
  seen.inStep = await shown(tab);
  await tab.getByRole("button", { name: "Whole piece", exact: true }).click();
  await tab.keyboard.press("Escape");
}

async function client(tab) {
  await tab.getByRole("button", { name: "Client", exact: true }).click();
  await settled(tab);
  seen.clientTabs = await tab.locator('[role="tab"]:visible').allTextContents();
  seen.clientPins = await tab.locator(".pin:visible").count();
  await picture(tab, "client");
  await tab.getByRole("button", { name: "Bench", exact: true }).click();
  await tab.emulateMedia({ colorScheme: "dark", reducedMotion: "reduce" });
  await tab.setViewportSize({ width: 390, height: 780 });
  await settled(tab);
  seen.wide = await tab.evaluate(() => document.documentElement.scrollWidth);
  await picture(tab, "phone-dark");
}

const first = await opened(software);
seen.took = first.took;
for (const part of [walk, measure, apartAndCut, tree, client]) await part(first.tab);
await first.browser.close();
const whole = seen.errors.length;
const bare = await opened(["--disable-3d-apis"]);
seen.still = await bare.tab.locator("#still svg").isVisible();
seen.why = await bare.tab.locator("#why").textContent();
await bare.tab.getByRole("tab", { name: "Parts", exact: true }).click();
seen.stillTree = await bare.tab.getByRole("treeitem").count();
seen.errors.length = whole; // the drawing library says in the console that it cannot draw
await picture(bare.tab, "still");
await bare.browser.close();
console.log(JSON.stringify(seen));
