// Opens a page again and again in headless Chromium with software drawing, and times it.
// Arguments: the file, Chromium, how often, and how long the browser rests before (ms). Prints the
// milliseconds from going there until the page says that it is ready, and until its first picture
// is drawn, as JSON.
import { chromium } from "playwright-core";
import { pathToFileURL } from "node:url";

const [, , file, program, times, rest] = process.argv;
const software = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"];
const seen = { ready: [], picture: [] };

/** Runs in the page before its own script: notes when it is ready, and when all asked for by then is drawn. */
function watch() {
  let gl = null;
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (...asked) {
    const found = get.apply(this, asked);
    if (found?.fenceSync) gl = found;
    return found;
  };
  const noted = (globalThis.noted = { ready: 0, picture: 0 });
  const drawn = (fence) => {
    if (gl.getSyncParameter(fence, gl.SYNC_STATUS) === gl.SIGNALED) noted.picture = Date.now();
    else setTimeout(drawn, 5, fence);
  };
  const changed = () => {
    if (!document.body.dataset.ready || noted.ready) return;
    noted.ready = Date.now();
    if (document.body.dataset.ready !== "yes" || !gl) return void (noted.picture = noted.ready);
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
    drawn(fence);
  };
  const begin = () => {
    if (document.body) new MutationObserver(changed).observe(document.body, { attributes: true });
    else setTimeout(begin, 1);
  };
  begin();
}

for (let count = 0; count < Number(times); count++) {
  const browser = await chromium.launch({ executablePath: program, args: software });
  const tab = await browser.newPage({ viewport: { width: 1200, height: 700 } });
  await tab.addInitScript(watch);
  await new Promise((done) => setTimeout(done, Number(rest)));
  const start = Date.now();
  await tab.goto(pathToFileURL(file).href, { waitUntil: "commit" });
  await tab.waitForFunction(() => globalThis.noted?.picture, null, { polling: 20 });
  const { ready, picture, how } = await tab.evaluate(() => ({ ...globalThis.noted, how: document.body.dataset.ready }));
  if (how !== "yes") throw new Error(`the page says ${how}`);
  seen.ready.push(ready - start);
  seen.picture.push(picture - start);
  await browser.close();
}
console.log(JSON.stringify(seen));
