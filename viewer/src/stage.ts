// Camera, light and canvas. Drawn when something has changed, never in a loop of its own.

import {
  AmbientLight,
  Box3,
  DirectionalLight,
  HemisphereLight,
  Mesh,
  MOUSE,
  Object3D,
  PCFShadowMap,
  PerspectiveCamera,
  PlaneGeometry,
  Scene,
  ShadowMaterial,
  Sphere,
  Spherical,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { LIGHT, pixel } from "./looks";

const SLOW = 70; // ms: where frames follow each other slower, they are drawn coarser while the view moves
const COARSEST = 4; // screen pixels a side that are drawn as one at most
const FINEST = 2; // drawn pixels a side for one of the screen at most
const SMOOTH = 1.5; // the same where a processor draws: about what four samples a pixel look like, in less time
const LONGEST = 10000; // ms after which a frame is not waited for
const SHARPEN = 160; // ms of rest after which it is drawn sharp again
const FIELD = 26; // degrees, upright: close to what an eye takes in without turning
const SHADOW = 1024;

export type View = "corner" | "front" | "left" | "right" | "back" | "above";

const VIEWS: Record<View, [number, number, number]> = {
  corner: [0.55, -1.25, 0.5],
  front: [0, -1, 0.02],
  left: [-1, 0, 0.02],
  right: [1, 0, 0.02],
  back: [0, 1, 0.02],
  above: [0, -0.02, 1],
};

/** Whether a processor draws the picture for want of a graphics card. */
function byProcessor(gl: WebGL2RenderingContext): boolean {
  const names = gl.getExtension("WEBGL_debug_renderer_info");
  const name = names ? String(gl.getParameter(names.UNMASKED_RENDERER_WEBGL)) : "";
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

const ASKED = { alpha: true, depth: true, stencil: false, premultipliedAlpha: true, preserveDrawingBuffer: true };

/** A place to draw in, smoothed by the graphics card; a processor pays for every sample of a pixel. */
function easel(): { context: WebGL2RenderingContext; canvas: HTMLCanvasElement; slow: boolean } {
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("webgl2", { ...ASKED, antialias: false });
  if (!context) throw new Error("no WebGL");
  if (byProcessor(context)) return { context, canvas, slow: true };
  const smooth = document.createElement("canvas");
  const better = smooth.getContext("webgl2", { ...ASKED, antialias: true });
  if (!better) return { context, canvas, slow: false };
  context.getExtension("WEBGL_lose_context")?.loseContext();
  return { context: better, canvas: smooth, slow: false };
}

/** The picture's place on the page. */
export class Stage {
  readonly scene = new Scene();
  readonly camera = new PerspectiveCamera(FIELD, 1, 10, 1e5);
  readonly controls: OrbitControls;
  readonly renderer: WebGLRenderer;
  readonly drawn: (() => void)[] = [];
  frames = 0;
  private readonly sun = new DirectionalLight("#fff8ea", 1.7);
  private asked = 0;
  private readonly finest: number; // drawn pixels a side for one of the screen, at rest
  private readonly coarsest: number;
  private coarse: number; // so many pixels a side are drawn as one
  private fit = ""; // what size the picture has been given
  private rest = 0;
  private moving = false;
  private whole: { view: View; bounds: Box3 } | null = null; // what fills the picture, until somebody has turned it
  private last = 0;
  private cost: number; // ms that this machine was at a sharp frame
  private timing = false;
  private unshaded = false; // the shadows are not those of the pose: they follow with the sharp picture

  /** Throws where the browser cannot draw in three dimensions. */
  constructor(readonly place: HTMLElement) {
    const { context, canvas, slow } = easel();
    this.renderer = new WebGLRenderer({ context, canvas, alpha: true, preserveDrawingBuffer: true });
    // A processor smooths by finer pixels, and only at rest.
    this.finest = slow ? SMOOTH : Math.min(devicePixelRatio, FINEST);
    this.coarsest = slow ? COARSEST * SMOOTH : COARSEST;
    this.coarse = slow ? COARSEST : 1;
    this.cost = slow ? LONGEST : 0;
    this.renderer.localClippingEnabled = true;
    this.renderer.shadowMap.enabled = true;
    this.renderer.shadowMap.type = PCFShadowMap;
    this.renderer.shadowMap.autoUpdate = false;
    place.prepend(canvas);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.PAN, RIGHT: MOUSE.PAN };
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", () => this.turned());
    this.controls.addEventListener("start", () => (this.whole = null));
    this.light();
    new ResizeObserver(() => {
      if (!this.fitted()) return;
      if (this.whole) this.look(this.whole.view, this.whole.bounds);
      this.atOnce();
    }).observe(place);
  }

  private light(): void {
    this.scene.add(new HemisphereLight("#ffffff", "#c9b79c", 1.9), new AmbientLight("#ffffff", 0.6));
    this.sun.castShadow = true;
    this.sun.shadow.mapSize.set(SHADOW, SHADOW);
    this.sun.shadow.radius = 5;
    this.sun.shadow.normalBias = 2;
    this.scene.add(this.sun, this.sun.target, this.floor);
    this.floor.receiveShadow = true;
  }

  private readonly floor = new Mesh(new PlaneGeometry(1, 1), new ShadowMaterial({ opacity: 0.22 }));

  /** Light and floor for a piece of this size. */
  room(bounds: Box3): void {
    const ball = bounds.getBoundingSphere(new Sphere());
    const reach = ball.radius * 1.6;
    this.sun.position.copy(ball.center).addScaledVector(LIGHT, ball.radius * 3);
    this.sun.target.position.copy(ball.center);
    const shadow = this.sun.shadow.camera;
    [shadow.left, shadow.right, shadow.bottom, shadow.top] = [-reach, reach, -reach, reach];
    [shadow.near, shadow.far] = [ball.radius * 0.5, ball.radius * 7];
    shadow.updateProjectionMatrix();
    this.floor.scale.setScalar(ball.radius * 12);
    this.floor.position.set(ball.center.x, ball.center.y, bounds.min.z - 0.5);
    this.controls.minDistance = ball.radius * 0.05;
    this.controls.maxDistance = ball.radius * 14;
  }

  /** The pose has changed: draw anew, shadows and all. */
  changed(): void {
    this.renderer.shadowMap.needsUpdate = true;
    this.draw();
  }

  /** Draw before the next frame of the screen. */
  draw(): void {
    this.asked ||= requestAnimationFrame(() => this.now());
  }

  private now(): void {
    this.asked = 0;
    const since = performance.now() - this.last;
    this.last += since;
    const distance = this.camera.position.distanceTo(this.controls.target);
    const height = Math.max(this.place.clientHeight, 1) * this.renderer.getPixelRatio();
    pixel.value = (2 * distance * Math.tan((FIELD * Math.PI) / 360)) / height;
    this.renderer.render(this.scene, this.camera);
    this.frames += 1;
    this.over();
    if (this.coarse === 1) this.timed();
    if (this.moving && since > SLOW && since < 5 * SLOW) this.sharpness(Math.min(this.coarse * 2, this.coarsest));
  }

  /** Draw anew only what lies over the picture: numbers and pins. */
  over(): void {
    for (const act of this.drawn) act();
  }

  /** Note how long the machine is at a frame; nothing waits for it. */
  private timed(): void {
    const gl = this.renderer.getContext();
    const fence = this.timing || !("fenceSync" in gl) ? null : gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    if (!fence || !("fenceSync" in gl)) return;
    this.timing = true;
    const start = performance.now();
    gl.flush();
    const look = (): void => {
      const took = performance.now() - start;
      if (gl.getSyncParameter(fence, gl.SYNC_STATUS) !== gl.SIGNALED && took < LONGEST) {
        setTimeout(look, 10);
        return;
      }
      this.cost = took;
      this.timing = false;
      gl.deleteSync(fence);
    };
    setTimeout(look, 10);
  }

  /** Another piece is to be seen: coarse at once where frames take long, and sharp after a rest. */
  anew(): void {
    if (this.cost < SLOW) return;
    this.unshaded ||= this.renderer.shadowMap.needsUpdate;
    this.renderer.shadowMap.needsUpdate = false;
    this.roughly(this.coarsest);
  }

  private turned(): void {
    if (this.cost >= 5 * SLOW) this.roughly(COARSEST); // frames that slow do not tell when to draw coarser
    else this.roughly(this.coarse);
  }

  /** Draw at least so coarse, and sharp after a rest. */
  private roughly(coarse: number): void {
    this.moving = true;
    clearTimeout(this.rest);
    this.rest = window.setTimeout(() => {
      this.moving = false;
      if (this.coarse > 1) this.sharpness(1);
      else this.draw();
    }, SHARPEN);
    if (this.coarse < coarse) this.sharpness(coarse);
    else this.draw();
  }

  private sharpness(coarse: number): void {
    if (coarse === this.coarse) return;
    if (coarse < this.coarse && this.unshaded) {
      this.unshaded = false;
      this.renderer.shadowMap.needsUpdate = true;
    }
    this.coarse = coarse;
    if (this.fitted()) this.atOnce();
  }

  /** Fit the picture to its place; tells whether anything changed. */
  private fitted(): boolean {
    const { clientWidth: width, clientHeight: height } = this.place;
    const ratio = this.finest / this.coarse;
    const fit = `${width} x ${height} x ${ratio}`;
    if (!width || !height || fit === this.fit) return false;
    this.fit = fit;
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(width, height);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    return true;
  }

  /** Draw now: a canvas whose size has changed is empty. */
  private atOnce(): void {
    cancelAnimationFrame(this.asked);
    this.now();
  }

  /** Look from one side so that `bounds` fill the picture. */
  look(view: View, bounds: Box3): void {
    this.fitted(); // before anything is drawn, too
    const from = new Vector3(...VIEWS[view]).normalize();
    const centre = bounds.getCenter(new Vector3());
    this.controls.target.copy(centre);
    this.camera.position.copy(centre).addScaledVector(from, this.distance(bounds, from));
    this.camera.near = Math.max(bounds.getSize(new Vector3()).length() / 200, 1);
    this.camera.far = this.camera.near * 20000;
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.whole = { view, bounds };
    this.draw();
  }

  /** Keep the picture filled with what there is to see now, unless somebody has turned it. */
  refill(bounds: Box3): void {
    if (this.whole && !this.whole.bounds.equals(bounds)) this.look(this.whole.view, bounds);
  }

  /** How far off the eye must be for every corner of the box to be in the picture. */
  private distance(bounds: Box3, from: Vector3): number {
    const right = new Vector3().crossVectors(this.camera.up, from).normalize();
    const up = new Vector3().crossVectors(from, right);
    const half = Math.tan((FIELD * Math.PI) / 360) * 0.93;
    const centre = bounds.getCenter(new Vector3());
    let far = 0;
    for (let corner = 0; corner < 8; corner++) {
      const p = new Vector3(
        (corner & 1 ? bounds.max : bounds.min).x,
        (corner & 2 ? bounds.max : bounds.min).y,
        (corner & 4 ? bounds.max : bounds.min).z,
      ).sub(centre);
      const wide = Math.abs(p.dot(right)) / (half * this.camera.aspect);
      far = Math.max(far, p.dot(from) + Math.max(wide, Math.abs(p.dot(up)) / half));
    }
    return far;
  }

  /** Turn the view about the piece (degrees). */
  turn(sideways: number, upwards: number): void {
    this.whole = null;
    const arm = this.camera.position.clone().sub(this.controls.target);
    // the sphere's own axis is y; here it is z
    const round = new Spherical().setFromCartesianCoords(arm.x, arm.z, -arm.y);
    round.theta += (sideways * Math.PI) / 180;
    round.phi = Math.min(Math.max(round.phi - (upwards * Math.PI) / 180, 0.02), Math.PI - 0.02);
    const turned = new Vector3().setFromSpherical(round);
    this.camera.position.copy(this.controls.target).add(new Vector3(turned.x, -turned.z, turned.y));
    this.controls.update();
  }

  /** Move nearer (under 1) or further away (over 1). */
  near(by: number): void {
    this.whole = null;
    const arm = this.camera.position.clone().sub(this.controls.target).multiplyScalar(by);
    this.camera.position.copy(this.controls.target).add(arm);
    this.controls.update();
  }

  /** Shift the picture by shares of its height. */
  pan(right: number, up: number): void {
    this.whole = null;
    const distance = this.camera.position.distanceTo(this.controls.target);
    const across = new Vector3().setFromMatrixColumn(this.camera.matrix, 0);
    const over = new Vector3().setFromMatrixColumn(this.camera.matrix, 1);
    const by = across.multiplyScalar(right * distance).addScaledVector(over, up * distance);
    this.camera.position.add(by);
    this.controls.target.add(by);
    this.controls.update();
  }

  /** Where a point of the piece is on the page, in pixels of the picture; null behind the eye. */
  at(p: Vector3): { x: number; y: number } | null {
    const seen = p.clone().project(this.camera);
    if (seen.z > 1) return null;
    const { clientWidth: width, clientHeight: height } = this.place;
    return { x: ((seen.x + 1) / 2) * width, y: ((1 - seen.y) / 2) * height };
  }

  add(thing: Object3D): void {
    this.scene.add(thing);
  }
}
