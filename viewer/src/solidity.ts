// A part's mesh as a closed body: its corners welded, its arrises, what a plane cuts out of it.

import { BufferAttribute, BufferGeometry, Plane, ShapeUtils, Vector2, Vector3 } from "three";

const CELL = 1e-3; // corners closer than this are one (mm)

export interface Body {
  geometry: BufferGeometry;
  points: Float32Array;
  corners: Uint32Array;
  // pairs of corners: the arrises, where the shading breaks
  arrises: Uint32Array;
  lines: BufferGeometry;
}

/** Weld a mesh whose corners stand once for every surface that meets there. */
export function body(geometry: BufferGeometry): Body {
  const points = geometry.getAttribute("position").array as Float32Array;
  const index = geometry.getIndex()!.array;
  const weld = welded(points);
  const corners = Uint32Array.from(index, (at) => weld[at]!);
  const sides = arrises(index, weld);
  return { geometry, points, corners, arrises: sides, lines: inked(points, sides) };
}

/** For each corner the first one in its place. */
function welded(points: Float32Array): Uint32Array {
  const weld = new Uint32Array(points.length / 3);
  const first = new Map<number, number[]>();
  const cell = (at: number): number => Math.round(points[at]! / CELL);
  for (let at = 0; at < weld.length; at++) {
    const [x, y, z] = [cell(3 * at), cell(3 * at + 1), cell(3 * at + 2)];
    const key = (Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791)) >>> 0;
    const alike = first.get(key);
    const known = alike?.find((one) => cell(3 * one) === x && cell(3 * one + 1) === y && cell(3 * one + 2) === z);
    if (known !== undefined) weld[at] = known;
    else {
      weld[at] = at;
      if (alike) alike.push(at);
      else first.set(key, [at]);
    }
  }
  return weld;
}

function inked(points: Float32Array, arrises: Uint32Array): BufferGeometry {
  const ends = new Float32Array(arrises.length * 3);
  arrises.forEach((corner, at) => ends.set(points.subarray(3 * corner, 3 * corner + 3), 3 * at));
  return new BufferGeometry().setAttribute("position", new BufferAttribute(ends, 3));
}

/** The sides that only one triangle of a surface has: there another surface begins. */
function arrises(index: ArrayLike<number>, weld: Uint32Array): Uint32Array {
  const alone = new Map<number, [number, number]>();
  const count = weld.length;
  for (let at = 0; at < index.length; at++) {
    const a = index[at]!;
    const b = index[at % 3 === 2 ? at - 2 : at + 1]!;
    const key = Math.min(a, b) * count + Math.max(a, b);
    if (!alone.delete(key)) alone.set(key, [a, b]);
  }
  const once = new Map<number, [number, number]>();
  for (const [a, b] of alone.values()) {
    const [low, high] = [Math.min(weld[a]!, weld[b]!), Math.max(weld[a]!, weld[b]!)];
    if (low !== high) once.set(low * count + high, [low, high]);
  }
  return Uint32Array.from([...once.values()].flat());
}

export interface Cut {
  cap: BufferGeometry;
  outline: BufferGeometry;
}

/** The face that `plane` (part axes) leaves on a body, turned towards the side cut away. */
export function cut(solid: Body, plane: Plane): Cut | null {
  const next = chains(solid, plane);
  const loops = closed(next);
  if (!loops.length) return null;
  const across = perpendicular(plane.normal);
  const up = new Vector3().crossVectors(plane.normal, across);
  const flat = loops.map((loop) => loop.map((p) => new Vector2(p.dot(across), p.dot(up))));
  return { cap: filled(loops, flat, plane.normal.clone().negate()), outline: outlined(loops) };
}

function perpendicular(normal: Vector3): Vector3 {
  const helper = Math.abs(normal.z) < 0.9 ? new Vector3(0, 0, 1) : new Vector3(1, 0, 0);
  return helper.cross(normal).normalize();
}

type Crossing = { at: Vector3; to: number };

/** From each side of a triangle that the plane crosses to the next one along the cut. */
function chains({ points, corners }: Body, plane: Plane): Map<number, Crossing> {
  const height = new Float64Array(points.length / 3);
  const p = new Vector3();
  for (const corner of corners) height[corner] = plane.distanceToPoint(p.fromArray(points, 3 * corner));
  const count = height.length;
  const next = new Map<number, Crossing>();
  for (let at = 0; at < corners.length; at += 3) {
    const three = [corners[at]!, corners[at + 1]!, corners[at + 2]!];
    let from = -1;
    let to = -1;
    let start = new Vector3();
    for (let side = 0; side < 3; side++) {
      const a = three[side]!;
      const b = three[(side + 1) % 3]!;
      if (height[a]! >= 0 === height[b]! >= 0) continue;
      const key = Math.min(a, b) * count + Math.max(a, b);
      if (height[a]! >= 0) {
        from = key;
        start = crossing(points, height, Math.min(a, b), Math.max(a, b));
      } else to = key;
    }
    if (from >= 0) next.set(from, { at: start, to });
  }
  return next;
}

function crossing(points: Float32Array, height: Float64Array, a: number, b: number): Vector3 {
  const share = height[a]! / (height[a]! - height[b]!);
  return new Vector3()
    .fromArray(points, 3 * a)
    .lerp(new Vector3().fromArray(points, 3 * b), share);
}

function closed(next: Map<number, Crossing>): Vector3[][] {
  const loops: Vector3[][] = [];
  while (next.size) {
    const loop: Vector3[] = [];
    let key = next.keys().next().value!;
    for (let here = next.get(key); here; here = next.get(key)) {
      loop.push(here.at);
      next.delete(key);
      key = here.to;
    }
    if (loop.length > 2) loops.push(loop);
  }
  return loops;
}

/** Triangles inside the outer loops and outside the inner ones. */
function filled(loops: Vector3[][], flat: Vector2[][], normal: Vector3): BufferGeometry {
  const areas = flat.map((loop) => ShapeUtils.area(loop));
  const largest = areas.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  const outer = areas.map((area) => Math.sign(area) === Math.sign(largest));
  const positions: number[] = [];
  flat.forEach((loop, place) => {
    if (!outer[place]) return;
    const holes = flat.flatMap((other, at) => (!outer[at] && within(other[0]!, loop) ? [at] : []));
    const corners = [loops[place]!, ...holes.map((at) => loops[at]!)].flat();
    for (const triangle of ShapeUtils.triangulateShape(loop, holes.map((at) => flat[at]!)))
      positions.push(...facing(triangle.map((at) => corners[at]!), normal));
  });
  const made = new BufferGeometry();
  made.setAttribute("position", new BufferAttribute(Float32Array.from(positions), 3));
  const normals = new Float32Array(positions.length);
  for (let at = 0; at < normals.length; at += 3) normal.toArray(normals, at);
  made.setAttribute("normal", new BufferAttribute(normals, 3));
  return made;
}

/** The corners of a triangle, in the order that turns it towards `normal`. */
function facing([a, b, c]: Vector3[], normal: Vector3): number[] {
  const turn = new Vector3().subVectors(b!, a!).cross(new Vector3().subVectors(c!, a!));
  const order = turn.dot(normal) < 0 ? [a!, c!, b!] : [a!, b!, c!];
  return order.flatMap((corner) => corner.toArray());
}

function within(p: Vector2, loop: Vector2[]): boolean {
  let inside = false;
  loop.forEach((a, at) => {
    const b = loop[(at + 1) % loop.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x)
      inside = !inside;
  });
  return inside;
}

function outlined(loops: Vector3[][]): BufferGeometry {
  const ends = loops.flatMap((loop) => loop.flatMap((p, at) => [p, loop[(at + 1) % loop.length]!]));
  return new BufferGeometry().setFromPoints(ends);
}
