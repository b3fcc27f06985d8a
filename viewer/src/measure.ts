// Distances between what was picked, from the model's numbers: planes of the parts' own faces,
// the arrises where two of them meet, the corners where three do. Everything in piece axes (mm).

import { Matrix4, Plane, Vector3 } from "three";
import type { Face } from "./record";

const SAME_PLANE = 0.02; // mm: a corner of a mesh in single precision lies this close to its face
const PARALLEL = 1e-6;

export type Picked =
  | { kind: "face"; plane: Plane; at: Vector3; name: string }
  | { kind: "edge"; from: Vector3; to: Vector3; at: Vector3; name: string }
  | { kind: "point"; at: Vector3; name: string };

export interface Measured {
  what: string;
  value: number;
  unit: "mm" | "degrees";
  from: Vector3;
  to: Vector3;
}

/** A part's face as a plane of three: `distanceToPoint` is 0 on it. */
export function planeOf(face: Face): Plane {
  return new Plane(new Vector3(...face.normal), -face.offset);
}

/** The face that a point of a mesh lies on and looks along, if it is a plane that the model knows. */
export function faceAt(faces: Face[], at: Vector3, normal: Vector3): Face | null {
  const fits = faces.filter(
    (face) =>
      normal.dot(new Vector3(...face.normal)) > 0.999 &&
      Math.abs(planeOf(face).distanceToPoint(at)) < SAME_PLANE,
  );
  return fits[0] ?? null;
}

/** A corner of a mesh moved into the planes that meet there; itself where they are fewer than three. */
export function exact(faces: Face[], corner: Vector3): Vector3 {
  const near = faces.map(planeOf).filter((plane) => Math.abs(plane.distanceToPoint(corner)) < SAME_PLANE);
  for (let a = 0; a < near.length; a++)
    for (let b = a + 1; b < near.length; b++)
      for (let c = b + 1; c < near.length; c++) {
        const met = meeting(near[a]!, near[b]!, near[c]!);
        if (met && met.distanceTo(corner) < 4 * SAME_PLANE) return met;
      }
  return corner.clone();
}

function meeting(a: Plane, b: Plane, c: Plane): Vector3 | null {
  const bc = new Vector3().crossVectors(b.normal, c.normal);
  const whole = a.normal.dot(bc);
  if (Math.abs(whole) < 0.01) return null;
  const ca = new Vector3().crossVectors(c.normal, a.normal);
  const ab = new Vector3().crossVectors(a.normal, b.normal);
  return bc
    .multiplyScalar(-a.constant)
    .addScaledVector(ca, -b.constant)
    .addScaledVector(ab, -c.constant)
    .divideScalar(whole);
}

/** The same thing somewhere else. */
export function carried(picked: Picked, by: Matrix4): Picked {
  const at = picked.at.clone().applyMatrix4(by);
  switch (picked.kind) {
    case "face":
      return { ...picked, at, plane: picked.plane.clone().applyMatrix4(by) };
    case "edge":
      return { ...picked, at, from: picked.from.clone().applyMatrix4(by), to: picked.to.clone().applyMatrix4(by) };
    case "point":
      return { ...picked, at };
  }
}

/** What lies between two things. */
export function between(a: Picked, b: Picked): Measured {
  if (a.kind === "face") return b.kind === "face" ? faces(a, b) : fromFace(a, b);
  if (b.kind === "face") return fromFace(b, a);
  if (a.kind === "edge" && b.kind === "edge") return edges(a, b);
  if (a.kind === "edge" && b.kind === "point") return fromLine(a, b.at);
  if (b.kind === "edge" && a.kind === "point") return fromLine(b, a.at);
  return straight("from point to point", a.at, b.at);
}

function straight(what: string, from: Vector3, to: Vector3): Measured {
  return { what, value: from.distanceTo(to), unit: "mm", from: from.clone(), to: to.clone() };
}

type FaceOf = Extract<Picked, { kind: "face" }>;
type EdgeOf = Extract<Picked, { kind: "edge" }>;

function square(plane: Plane, at: Vector3): Vector3 {
  return plane.projectPoint(at, new Vector3());
}

function faces(a: FaceOf, b: FaceOf): Measured {
  if (new Vector3().crossVectors(a.plane.normal, b.plane.normal).length() < PARALLEL)
    return straight("between two faces, square to them", b.at, square(a.plane, b.at));
  const turn = a.plane.normal.angleTo(b.plane.normal);
  const value = 180 - (turn * 180) / Math.PI;
  return { what: "angle that the wood makes between two faces", value, unit: "degrees", from: a.at.clone(), to: b.at.clone() };
}

function fromFace(a: FaceOf, b: Exclude<Picked, FaceOf>): Measured {
  if (b.kind === "point") return straight("from a face, square to it", b.at, square(a.plane, b.at));
  const along = new Vector3().subVectors(b.to, b.from).normalize();
  if (Math.abs(along.dot(a.plane.normal)) < PARALLEL)
    return straight("from a face to an edge along it", b.at, square(a.plane, b.at));
  const value = (Math.asin(Math.min(Math.abs(along.dot(a.plane.normal)), 1)) * 180) / Math.PI;
  return { what: "angle between a face and an edge", value, unit: "degrees", from: a.at.clone(), to: b.at.clone() };
}

function foot(line: EdgeOf, at: Vector3): Vector3 {
  const along = new Vector3().subVectors(line.to, line.from).normalize();
  return line.from.clone().addScaledVector(along, at.clone().sub(line.from).dot(along));
}

function fromLine(line: EdgeOf, at: Vector3): Measured {
  return straight("from an edge, square to it", at, foot(line, at));
}

function edges(a: EdgeOf, b: EdgeOf): Measured {
  const u = new Vector3().subVectors(a.to, a.from).normalize();
  const v = new Vector3().subVectors(b.to, b.from).normalize();
  const both = new Vector3().crossVectors(u, v);
  if (both.length() < PARALLEL) return straight("between two edges, square to them", b.at, foot(a, b.at));
  const offset = new Vector3().subVectors(b.from, a.from);
  const n = both.lengthSq();
  const s = new Vector3().crossVectors(offset, v).dot(both) / n;
  const t = new Vector3().crossVectors(offset, u).dot(both) / n;
  const [p, q] = [a.from.clone().addScaledVector(u, s), b.from.clone().addScaledVector(v, t)];
  if (p.distanceTo(q) > SAME_PLANE) return straight("between two edges, where they are nearest", p, q);
  const value = (u.angleTo(v) * 180) / Math.PI;
  return { what: "angle between two edges", value, unit: "degrees", from: p, to: q };
}
