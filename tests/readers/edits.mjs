// Saves a spec again and again under the live view in headless Chromium, and times what comes of it.
// Arguments: the address, Chromium, the spec, the words to change, then the words to put there, one
// edit each. Prints the milliseconds from each save to the findings and to the picture as JSON.
import { readFileSync, writeFileSync } from "node:fs";
import { chromium } from "playwright-core";

const [, , address, program, spec, was, ...words] = process.argv;
const REST = 1500; // ms between two edits: the sharp picture of the last one is there by then
const software = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
const browser = await chromium.launch({ executablePath: program, args: software });
const tab = await browser.newPage({ viewport: { width: 1200, height: 700 } });
await tab.goto(address);
const told = (what, number) =>
  tab.evaluate(
    ([key, least]) =>
      new Promise((done) => {
        const there = () => Number(document.body.dataset[key] ?? 0) >= least;
        const watch = new MutationObserver(() => there() && (watch.disconnect(), done(Date.now())));
        watch.observe(document.body, { attributes: true });
        if (there()) done(Date.now());
      }),
    [what, number],
  );
// Until all that was drawn is there: one pixel is asked for.
const onScreen = () =>
  tab.evaluate(() => {
    const gl = casewright.stage.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    return Date.now();
  });
await Promise.all([told("shown", 1), told("ordered", 1)]);
const seen = { looked: [], shown: [] };
const text = readFileSync(spec, "utf8");
if (!text.includes(was)) throw new Error(`${spec} does not say ${was}`);
let number = await tab.evaluate(() => Number(document.body.dataset.shown));
for (const word of words) {
  number += 1;
  await new Promise((done) => setTimeout(done, REST));
  const waits = [told("looked", number), told("shown", number), told("ordered", number)];
  const start = Date.now();
  writeFileSync(spec, text.replace(was, word));
  const looked = await waits[0];
  await waits[1];
  const shown = await onScreen();
  await waits[2];
  seen.looked.push(looked - start);
  seen.shown.push(shown - start);
}
await browser.close();
console.log(JSON.stringify(seen));
