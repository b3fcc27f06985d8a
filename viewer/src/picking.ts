// What lies under the pointer: a copy, and the face, edge or corner of it.

import { Line3, Raycaster, Vector2, Vector3, type Intersection } from "three";
import { carried, exact, faceAt, planeOf, type Picked } from "./measure";
import type { Copy, Model } from "./model";
import type { Section } from "./section";
import type { Stage } from "./stage";

const CORNER_REACH = 11; // pixels
const EDGE_REACH = 7;

export interface Hit {
  copy: Copy;
  at: Vector3;
  normal: Vector3;
}

/** The nearest thing seen at a place of the picture. */
export function hit(stage: Stage, model: Model, section: Section, x: number, y: number): Hit | null {
  const { clientWidth: width, clientHeight: height } = stage.place;
  const ray = new Raycaster();
  ray.setFromCamera(new Vector2((x / width) * 2 - 1, 1 - (y / height) * 2), stage.camera);
  const meshes = [...model.copies.values()].filter((copy) => copy.node.visible).map((copy) => copy.mesh);
  const seen = (found: Intersection): boolean => section.plane.distanceToPoint(found.point) >= -1e-3;
  const first = ray.intersectObjects(meshes, false).find(seen);
  if (!first?.face) return null;
  const copy = model.copies.get(String(first.object.parent?.userData["copy"]));
  if (!copy) return null;
  const back = copy.node.matrix.clone().invert();
  return { copy, at: first.point.clone().applyMatrix4(back), normal: first.face.normal.clone() };
}

/** The corner, the edge or the face that a pointer at `x`, `y` means, with the model's numbers. */
export function picked(stage: Stage, found: Hit, x: number, y: number): Picked | null {
  const { copy } = found;
  const place = (p: Vector3): Vector2 | null => {
    const at = stage.at(p.clone().applyMatrix4(copy.node.matrix));
    return at && new Vector2(at.x, at.y);
  };
  const near = nearest(copy, place, new Vector2(x, y), found);
  const local = near ?? face(found);
  return local && carried(local, copy.node.matrix);
}

function named(copy: Copy): string {
  return `${copy.record.id} ${copy.part.name}`;
}

function face({ copy, at, normal }: Hit): Picked | null {
  const known = faceAt(copy.part.faces, at, normal);
  if (!known) return { kind: "point", at, name: `a place on ${named(copy)}` };
  const plane = planeOf(known);
  return { kind: "face", plane, at: plane.projectPoint(at, new Vector3()), name: `${known.name} of ${named(copy)}` };
}

type Placed = (p: Vector3) => Vector2 | null;

function nearest(copy: Copy, place: Placed, pointer: Vector2, found: Hit): Picked | null {
  const { points, arrises } = copy.body;
  let corner: { far: number; at: Vector3 } | null = null;
  let edge: { far: number; line: Line3 } | null = null;
  for (let at = 0; at < arrises.length; at += 2) {
    const line = new Line3(
      new Vector3().fromArray(points, 3 * arrises[at]!),
      new Vector3().fromArray(points, 3 * arrises[at + 1]!),
    );
    if (!touches(copy, line, found)) continue;
    const [a, b] = [place(line.start), place(line.end)];
    if (!a || !b) continue;
    for (const [end, seen] of [[line.start, a], [line.end, b]] as const) {
      const far = seen.distanceTo(pointer);
      if (far < (corner?.far ?? CORNER_REACH)) corner = { far, at: end };
    }
    const far = distanceTo(a, b, pointer);
    if (far < (edge?.far ?? EDGE_REACH)) edge = { far, line };
  }
  if (corner) return { kind: "point", at: exact(copy.part.faces, corner.at), name: `corner of ${named(copy)}` };
  if (!edge) return null;
  const from = exact(copy.part.faces, edge.line.start);
  const to = exact(copy.part.faces, edge.line.end);
  const on = new Line3(from, to).closestPointToPoint(found.at, true, new Vector3());
  return { kind: "edge", from, to, at: on, name: `edge of ${named(copy)}` };
}

/** Whether an arris belongs to the face under the pointer; those behind it are not meant. */
function touches(_copy: Copy, line: Line3, { at, normal }: Hit): boolean {
  const level = (p: Vector3): number => Math.abs(p.clone().sub(at).dot(normal));
  return level(line.start) < 0.05 && level(line.end) < 0.05;
}

function distanceTo(a: Vector2, b: Vector2, p: Vector2): number {
  const along = b.clone().sub(a);
  const share = Math.min(Math.max(p.clone().sub(a).dot(along) / (along.lengthSq() || 1), 0), 1);
  return a.clone().addScaledVector(along, share).distanceTo(p);
}
